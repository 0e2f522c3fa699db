using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>Why numbers of several years may not be comparable: what was done otherwise in one than in another.</summary>
public static class PoolingCautions
{
    /// <summary>Days in the year between set-outs from which on cover and predators are another season's.</summary>
    public const int MostDaysApart = 14;

    private const int MostYearByYear = 3;

    /// <summary>What speaks against comparing seasons, each as it was done.</summary>
    /// <param name="seasons">How each was done, the earliest first.</param>
    /// <returns>Sentences, the gravest first; empty when nothing is known to speak against it.</returns>
    /// <remarks>More than 14 days between set-outs: common practice, no source.</remarks>
    public static ImmutableArray<Phrase> Compared(IReadOnlyList<SeasonConduct> seasons)
    {
        ArgumentNullException.ThrowIfNull(seasons);
        var cautions = ImmutableArray.CreateBuilder<Phrase>();
        Differ(cautions, seasons, "pooling.own_days", s => s.Days);
        if (SetOut(seasons) is { } apart) cautions.Add(apart);
        if (seasons.Any(s => s.AreSetDatesAssumed)) cautions.Add(Phrase.Of("pooling.assumed", ("years", string.Join(", ", seasons.Where(s => s.AreSetDatesAssumed).Select(s => s.Label)))));
        Differ(cautions, seasons, "pooling.egg_kind", s => s.EggKind);
        Differ(cautions, seasons, "pooling.renew_eggs", s => s.RenewEggs);
        Differ(cautions, seasons, "pooling.own_loss_rule", s => s.LossRule);
        Differ(cautions, seasons, "pooling.own_window", s => s.Window);
        Differ(cautions, seasons, "pooling.clump_rule", s => s.ClumpRule);
        return cautions.ToImmutable();
    }

    /// <summary>What must be said where seasons are put together, of which the newest gives the rules.</summary>
    internal static ImmutableArray<Phrase> Of(IEnumerable<Season> together)
    {
        var seasons = together.Select(s => SeasonConduct.Of(s)).ToArray();
        var cautions = ImmutableArray.CreateBuilder<Phrase>();
        Differ(cautions, seasons, "pooling.egg_kind", s => s.EggKind);
        Differ(cautions, seasons, "pooling.renew_eggs", s => s.RenewEggs);
        Differ(cautions, seasons, "pooling.clump_rule", s => s.ClumpRule);
        Differ(cautions, seasons, "pooling.loss_rule", s => s.LossRule);
        Differ(cautions, seasons, "pooling.window", s => s.Window);
        Differ(cautions, seasons, "pooling.benchmarks", s => s.Benchmarks);
        if (SetOut(seasons) is { } apart) cautions.Add(apart);
        return cautions.ToImmutable();
    }

    private static void Differ(ImmutableArray<Phrase>.Builder cautions, IEnumerable<SeasonConduct> seasons, string key, Func<SeasonConduct, string> say)
    {
        var said = seasons.Select(s => (Year: s.Label, Says: say(s))).Where(s => s.Says.Length > 0).ToArray();
        var kinds = said.GroupBy(s => s.Says, StringComparer.Ordinal).ToArray();
        if (kinds.Length < 2) return;
        // Of many years what each did would fill lines: they are named once for each way.
        var listed = said.Length > MostYearByYear ? kinds.Select(k => k.Key + ": " + string.Join(", ", k.Select(s => s.Year))) : said.Select(s => s.Year + ": " + s.Says);
        cautions.Add(Phrase.Of(key, ("years", string.Join("; ", listed))));
    }

    /// <summary>The season set out earliest in its year and the one set out latest, when they are too far apart.</summary>
    private static Phrase? SetOut(IEnumerable<SeasonConduct> seasons)
    {
        var middles = seasons.Where(s => s.SetOn is not null).Select(s => (Year: s.Label, On: s.SetOn!.Value.Middle)).OrderBy(s => DayInYear(s.On)).ToArray();
        if (middles.Length < 2 || DayInYear(middles[^1].On) - DayInYear(middles[0].On) is not (> MostDaysApart and var apart)) return null;
        return Phrase.Of("pooling.set_on", ("early", middles[0].Year), ("on", middles[0].On), ("late", middles[^1].Year), ("late_on", middles[^1].On), ("days", apart));
    }

    /// <summary>The day in a year without a leap day, so that the same date is the same day.</summary>
    internal static int DayInYear(DateOnly date) => date.DayOfYear - (DateTime.IsLeapYear(date.Year) && date.Month > 2 ? 1 : 0);
}
