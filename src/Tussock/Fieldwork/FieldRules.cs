using System.Globalization;
using System.Text.Json;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Fieldwork;

/// <summary>The rules of the season as a phone needs them.</summary>
internal static class FieldRules
{
    private const int UsualSearchSteps = 20;
    private const int UsualEggs = 3;

    internal static void Write(Utf8JsonWriter w, Guid id, SeasonTables tables, Catalogue words)
    {
        var settings = SettingsReading.Read(tables.Package, []);
        w.WriteStartObject();
        w.WriteString("id", id);
        w.WriteString("name", settings?.Name ?? Text(tables, "name"));
        w.WriteString("year", settings?.Year ?? "");
        w.WriteString("species", settings?.Species ?? "");
        w.WriteString("time_zone", settings?.TimeZone ?? "");
        w.WriteNumber("trial_days", settings?.TrialDays ?? 28);
        w.WriteStartArray("check_days");
        foreach (var day in settings?.CheckDays ?? [14, 28]) w.WriteNumberValue(day);
        w.WriteEndArray();
        w.WriteNumber("check_window_days", settings?.WindowDays ?? 3);
        w.WriteStartArray("cover_classes");
        foreach (var cover in settings?.CoverClasses ?? [])
        {
            w.WriteStartObject();
            w.WriteString("name", cover.Name);
            w.WriteString("role", cover.Role == CoverRole.Grass ? "grass" : "other");
            w.WriteEndObject();
        }

        w.WriteEndArray();
        w.WriteString("loss_rule", settings?.LossRule == LossRule.AllEggs ? "all_eggs" : "any_egg");
        w.WriteString("renew_eggs", Text(tables, "renew_eggs") is { Length: > 0 } renew ? renew : "all_intact");
        w.WriteString("egg_kind", settings?.EggKind ?? "");
        w.WriteNumber("search_rule_steps", Number(tables, "search_rule_steps") ?? UsualSearchSteps);
        w.WriteNumber("eggs_per_nest", Number(tables, "eggs_per_nest") ?? UsualEggs);
        w.WriteString("clump_rule", ClumpRule(tables, words));
        w.WriteStartObject("clump_rule_words");
        foreach (var language in Catalogue.Languages) if (ClumpRule(tables, Catalogue.Of(language)!) is { } rule) w.WriteString(language, rule);
        w.WriteEndObject();
        w.WriteStartObject("benchmarks");
        w.WriteNumber("survival", settings?.SurvivalBenchmark ?? 0.5);
        w.WriteNumber("clumps_per_acre", settings?.ClumpsPerAcreBenchmark ?? 300);
        w.WriteEndObject();
        w.WriteEndObject();
    }

    /// <summary>The rule for a suitable clump as people read it; null where the season has none.</summary>
    private static string? ClumpRule(SeasonTables tables, Catalogue words)
    {
        if (tables.Package.SeasonJson("clump_rule") is not { } json) return null;
        using var rule = JsonDocument.Parse(json);
        if (rule.RootElement.ValueKind == JsonValueKind.String) return rule.RootElement.GetString();
        if (rule.RootElement.ValueKind != JsonValueKind.Object) return null;
        var parts = new List<string>();
        if (Whole(rule.RootElement, "min_height_cm") is { } high) parts.Add(words.Say(Phrase.Of("field.clump_rule.height", ("cm", high))));
        if (Whole(rule.RootElement, "min_width_cm") is { } wide) parts.Add(words.Say(Phrase.Of("field.clump_rule.width", ("cm", wide))));
        if (rule.RootElement.TryGetProperty("living_only", out var living) && living.ValueKind == JsonValueKind.True) parts.Add(words.Say("field.clump_rule.living"));
        return parts.Count == 0 ? null : string.Join(", ", parts);
    }

    private static double? Whole(JsonElement rule, string name) => rule.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;

    private static string Text(SeasonTables tables, string name)
    {
        if (tables.Package.SeasonJson(name) is not { } json) return "";
        using var value = JsonDocument.Parse(json);
        return value.RootElement.ValueKind == JsonValueKind.String ? value.RootElement.GetString() ?? "" : value.RootElement.GetRawText();
    }

    private static double? Number(SeasonTables tables, string name) => double.TryParse(Text(tables, name), NumberStyles.Float, CultureInfo.InvariantCulture, out var x) && double.IsFinite(x) ? x : null;
}
