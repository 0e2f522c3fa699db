using System.Collections.Immutable;
using System.Text.Json;

namespace Tussock.Records;

/// <summary>How a season was done on some land: what has to be alike before two seasons are compared, and what may explain a difference.</summary>
/// <remarks>Texts are empty where nothing was written. May be shared between threads.</remarks>
public sealed record SeasonConduct
{
    /// <summary>Column of a nest that says its date of set-out was put in by guess.</summary>
    public const string SetOnAssumed = "set_on_assumed";

    /// <summary>Name of the season.</summary>
    public required string Season { get; init; }

    /// <summary>The year as it is called; the name of a season without one.</summary>
    public required string Label { get; init; }

    /// <summary>Trial days and check days, as text.</summary>
    public required string Days { get; init; }

    /// <summary>Kinds of egg, each once.</summary>
    public string EggKind { get; init; } = "";

    /// <summary>Rule for renewing eggs.</summary>
    public string RenewEggs { get; init; } = "";

    /// <summary>Rule for what a suitable clump is.</summary>
    public string ClumpRule { get; init; } = "";

    /// <summary>Rule for when a nest is lost.</summary>
    public string LossRule { get; init; } = "";

    /// <summary>Window around a check, days.</summary>
    public string Window { get; init; } = "";

    /// <summary>Benchmarks of survival and density.</summary>
    public string Benchmarks { get; init; } = "";

    /// <summary>Dates of the first set-out, of half of them, and of the last; null without a nest.</summary>
    public (DateOnly First, DateOnly Middle, DateOnly Last)? SetOn { get; init; }

    /// <summary>Whether dates of set-out were put in by guess.</summary>
    public bool AreSetDatesAssumed { get; init; }

    /// <summary>Rain since October, mm.</summary>
    public double? RainMm { get; init; }

    /// <summary>Normal rain since October, mm.</summary>
    public double? RainNormalMm { get; init; }

    /// <summary>Who visited, each once, in ordinal order.</summary>
    public ImmutableArray<string> Crew { get; init; } = [];

    /// <summary>Nests by cover class, in ordinal order of the class.</summary>
    public ImmutableArray<(string Cover, int Nests)> Covers { get; init; } = [];

    /// <summary>How the season was done on the land of some nests and visits.</summary>
    /// <param name="season">The season.</param>
    /// <param name="nests">The nests of that land; null: all of them.</param>
    /// <param name="visits">Their visits; null: all of them.</param>
    public static SeasonConduct Of(Season season, IEnumerable<Nest>? nests = null, IEnumerable<Visit>? visits = null)
    {
        ArgumentNullException.ThrowIfNull(season);
        var settings = season.Settings;
        var own = (nests ?? season.Nests).ToArray();
        var dates = own.Where(n => n.IsSet).Select(n => n.SetOn!.Value).Order().ToArray();
        return new SeasonConduct
        {
            Season = settings.Name,
            Label = SeasonPooling.Label(settings),
            Days = settings.TrialDays + ": " + string.Join(' ', settings.CheckDays),
            EggKind = string.Join(", ", own.Select(n => n.Source.Text("egg_kind")).Append(settings.EggKind).Where(e => e.Length > 0).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)),
            RenewEggs = Plain(season, "renew_eggs"),
            ClumpRule = Plain(season, "clump_rule"),
            LossRule = settings.LossRule == Records.LossRule.AnyEgg ? "any_egg" : "all_eggs",
            Window = Words.Numbers.Whole(settings.WindowDays),
            Benchmarks = Words.Numbers.Percent(settings.SurvivalBenchmark) + ", " + Words.Numbers.Short(settings.ClumpsPerAcreBenchmark),
            SetOn = dates.Length == 0 ? null : (dates[0], dates[(dates.Length - 1) / 2], dates[^1]),
            AreSetDatesAssumed = own.Any(n => n.Source.Token(SetOnAssumed) == "yes"),
            RainMm = settings.RainSinceOctoberMm,
            RainNormalMm = settings.RainNormalMm,
            Crew = [.. (visits ?? season.Visits).Select(v => v.Observer).Where(o => o.Length > 0).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)],
            Covers = [.. own.Where(n => n.IsSet).GroupBy(n => n.Cover, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).Select(g => (g.Key, g.Count()))],
        };
    }

    /// <summary>A setting as text without the marks of its notation.</summary>
    private static string Plain(Season season, string name)
    {
        if (season.Tables.Package.SeasonJson(name) is not { } json) return "";
        using var value = JsonDocument.Parse(json);
        return value.RootElement.ValueKind switch
        {
            JsonValueKind.Object => string.Join(", ", value.RootElement.EnumerateObject().OrderBy(p => p.Name, StringComparer.Ordinal).Select(p => p.Name.Replace('_', ' ') + " " + p.Value)),
            JsonValueKind.Null => "",
            _ => value.RootElement.ToString(),
        };
    }
}
