using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Tussock.Records;
using JsonProperty = Tussock.Records.JsonProperty;

namespace Tussock.Exchange.Archive;

/// <summary>The rules of a season as they go into an archive: what results depend on, and nothing that somebody has written freely.</summary>
internal static partial class ArchivedSettings
{
    /// <summary>Name in a season's description that says whether its places were coarsened.</summary>
    internal const string Coarsened = "coarsened";

    /// <summary>Name in a season's description that says of which archive it came.</summary>
    internal const string Archive = "archive";

    /// <summary>Name under which a season's title stands, where names stay.</summary>
    internal const string Title = "title";

    private const string Covers = "cover_classes";

    private static readonly string[] Numbers = ["trial_days", "window_days", "search_rule_steps", "rain_since_october_mm", "rain_normal_mm"];
    private static readonly string[] Texts = ["species", "loss_rule", "judge", "egg_kind", "egg_colour", "renew_eggs", "edge_rule"];
    private static readonly string[] OfClumps = ["min_height_cm", "min_width_cm", "living_only"];

    /// <summary>The <c>season</c> object, property by property.</summary>
    internal static ImmutableArray<JsonProperty> Of(Season season, string name, PublishedNames names, bool isExact)
    {
        var settings = new JsonObject { ["name"] = name };
        if (isExact) settings[Title] = season.Settings.Title;
        if (PublishedYear(season, names) is { Length: > 0 } year) settings["year"] = year;
        foreach (var key in Texts) if (Read(season, key) is JsonValue value && value.ToString() is var text && names.IsWord(text)) settings[key] = text;
        if (season.Settings.TimeZone.Length > 0 && TimeZoneInfo.TryFindSystemTimeZoneById(season.Settings.TimeZone, out _)) settings["time_zone"] = season.Settings.TimeZone;
        foreach (var key in Numbers) if (Read(season, key) is JsonValue value && value.GetValueKind() == JsonValueKind.Number) settings[key] = value.DeepClone();
        settings["check_days"] = new JsonArray([.. season.Settings.CheckDays.Select(d => JsonValue.Create(d))]);
        settings[Covers] = new JsonArray([.. season.Settings.CoverClasses.Select(c => new JsonObject { ["name"] = Cover(c.Name), ["role"] = c.Role == CoverRole.Grass ? "grass" : "other" })]);
        settings["benchmarks"] = new JsonObject { ["survival"] = season.Settings.SurvivalBenchmark, ["clumps_per_acre"] = season.Settings.ClumpsPerAcreBenchmark };
        if (Read(season, "clump_rule") is JsonObject rule)
        {
            var kept = new JsonObject();
            foreach (var key in OfClumps) if (rule[key] is JsonValue value && value.GetValueKind() is JsonValueKind.Number or JsonValueKind.True or JsonValueKind.False) kept[key] = value.DeepClone();
            if (!season.Settings.ClassesThatCount.IsEmpty) kept["classes_that_count"] = new JsonArray([.. season.Settings.ClassesThatCount.Select(c => JsonValue.Create(Cover(c)))]);
            settings["clump_rule"] = kept;
        }

        settings[Coarsened] = isExact ? "no" : "yes";
        return [.. settings.Select(p => new JsonProperty(p.Key, p.Value!.ToJsonString()))];

        string Cover(string written) => names.Of(Handing.Cover, written, "");
    }

    /// <summary>The texts of the rules that go out as somebody wrote them, as the words of columns are listed.</summary>
    internal static ImmutableArray<(string Column, ImmutableArray<string> Words)> Written(IEnumerable<ImmutableArray<JsonProperty>> seasons)
    {
        var rules = seasons.SelectMany(s => s).ToArray();
        return [.. Texts.Append("year").Append(Covers).Select(key => ("season." + key, OwnWords.Others(rules.Where(r => r.Name == key).SelectMany(r => Words(JsonNode.Parse(r.Json)))))).Where(t => !t.Item2.IsEmpty)];

        static IEnumerable<string> Words(JsonNode? node) => node switch
        {
            JsonArray list => list.SelectMany(n => Words(n?["name"])),
            JsonValue value when value.GetValueKind() == JsonValueKind.String => [value.GetValue<string>()],
            _ => [],
        };
    }

    /// <summary>The label of its year, where it is one and no name; else empty.</summary>
    internal static string PublishedYear(Season season, PublishedNames names) => names.IsWord(season.Settings.Year) || Year().IsMatch(season.Settings.Year) ? season.Settings.Year : "";

    /// <summary>Whether a season's places were coarsened before it came here.</summary>
    internal static bool IsCoarsened(SeasonPackage package) => package.SeasonJson(Coarsened) == "\"yes\"";

    [GeneratedRegex("^[0-9]{4}([-/–][0-9]{2,4})?$")]
    private static partial Regex Year();

    private static JsonNode? Read(Season season, string key) => season.Tables.Package.SeasonJson(key) is { } json ? JsonNode.Parse(json) : null;
}
