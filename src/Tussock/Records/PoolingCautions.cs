using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Words;

namespace Tussock.Records;

/// <summary>Why numbers of several years may not be comparable: what was done otherwise in one than in another.</summary>
internal static class PoolingCautions
{
    /// <summary>Days in the year between set-outs from which on cover and predators are another season's.</summary>
    internal const int MostDaysApart = 14;

    internal static ImmutableArray<Phrase> Of(IReadOnlyList<Season> seasons)
    {
        var cautions = ImmutableArray.CreateBuilder<Phrase>();
        void Differ(string key, Func<Season, string> say)
        {
            var said = seasons.Select(s => (Year: SeasonPooling.Label(s.Settings), Says: say(s))).Where(s => s.Says.Length > 0).ToArray();
            if (said.Select(s => s.Says).Distinct(StringComparer.Ordinal).Count() > 1) cautions.Add(Phrase.Of(key, ("years", string.Join("; ", said.Select(s => s.Year + ": " + s.Says)))));
        }

        Differ("pooling.egg_kind", Eggs);
        Differ("pooling.renew_eggs", s => Plain(s, "renew_eggs"));
        Differ("pooling.clump_rule", s => Plain(s, "clump_rule"));
        Differ("pooling.loss_rule", s => s.Settings.LossRule == LossRule.AnyEgg ? "any_egg" : "all_eggs");
        Differ("pooling.window", s => Numbers.Whole(s.Settings.WindowDays));
        Differ("pooling.benchmarks", s => Numbers.Percent(s.Settings.SurvivalBenchmark) + ", " + Numbers.Short(s.Settings.ClumpsPerAcreBenchmark));
        if (SetOut(seasons) is { } apart) cautions.Add(apart);
        return cautions.ToImmutable();
    }

    /// <summary>The season's kind of egg, and those of nests that have their own.</summary>
    private static string Eggs(Season season) =>
        string.Join(", ", season.Nests.Select(n => n.Source.Text("egg_kind")).Append(season.Settings.EggKind).Where(e => e.Length > 0).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal));

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

    /// <summary>The season set out earliest in its year and the one set out latest, when they are too far apart.</summary>
    private static Phrase? SetOut(IReadOnlyList<Season> seasons)
    {
        var middles = seasons.Select(s => (Year: SeasonPooling.Label(s.Settings), On: Middle(s))).Where(s => s.On is not null).OrderBy(s => DayInYear(s.On!.Value)).ToArray();
        if (middles.Length < 2 || DayInYear(middles[^1].On!.Value) - DayInYear(middles[0].On!.Value) is not (> MostDaysApart and var apart)) return null;
        return Phrase.Of("pooling.set_on", ("early", middles[0].Year), ("on", middles[0].On!.Value), ("late", middles[^1].Year), ("late_on", middles[^1].On!.Value), ("days", apart));
    }

    /// <summary>The date by which half of the season's nests were set.</summary>
    private static DateOnly? Middle(Season season)
    {
        var dates = season.Nests.Where(n => n.IsSet).Select(n => n.SetOn!.Value).Order().ToArray();
        return dates.Length == 0 ? null : dates[(dates.Length - 1) / 2];
    }

    /// <summary>The day in a year without a leap day, so that the same date is the same day.</summary>
    private static int DayInYear(DateOnly date) => date.DayOfYear - (DateTime.IsLeapYear(date.Year) && date.Month > 2 ? 1 : 0);
}
