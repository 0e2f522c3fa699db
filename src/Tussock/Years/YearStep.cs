using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Years;

/// <summary>Two years of one pasture or property, one against the other.</summary>
/// <param name="Before">The earlier year.</param>
/// <param name="After">The later year.</param>
/// <param name="Survival">Difference of survival and the chance that it rose.</param>
/// <param name="Density">Ratio of clump densities and the chance that it rose.</param>
/// <param name="Lines">Lines that were walked in both years.</param>
/// <param name="First">What must be said before the comparison: what was done otherwise.</param>
/// <param name="Others">What could explain a difference without any management.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record YearStep(PastureYear Before, PastureYear After, SurvivalDifference Survival, DensityChange Density, ImmutableArray<(string Line, LineYear Before, LineYear After)> Lines, ImmutableArray<Phrase> First, ImmutableArray<Phrase> Others)
{
    /// <summary>Rain that differs by less than this share is much the same.</summary>
    private const double MuchTheSame = 0.15;

    /// <summary>Days in the year from which another date of set-out is worth a word.</summary>
    private const int FewDays = 5;

    /// <summary>Points by which the mix of cover may differ before it is said.</summary>
    private const double FewPoints = 0.15;

    /// <summary>Whether nothing was done otherwise that is known.</summary>
    public bool IsAlike => First.IsEmpty;

    /// <summary>Lines walked in both years with nests of known fate in both.</summary>
    public int SharedKnown => Lines.Count(IsKnown);

    /// <summary>Those on which the share whole rose.</summary>
    public int LinesUp => Lines.Count(l => IsKnown(l) && Change(l) > 0);

    /// <summary>Those on which it fell.</summary>
    public int LinesDown => Lines.Count(l => IsKnown(l) && Change(l) < 0);

    /// <summary>Compares two years.</summary>
    public static YearStep Of(PastureYear before, PastureYear after)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        var first = PoolingCautions.Compared([before.Conduct, after.Conduct]);
        var earlier = before.Lines.Where(l => l.Line is not null).ToDictionary(l => l.Line!, StringComparer.Ordinal);
        var lines = after.Lines.Where(l => l.Line is not null && earlier.ContainsKey(l.Line)).Select(l => (l.Line!, earlier[l.Line!], l)).ToImmutableArray();
        var survival = before.TrialDays.Equals(after.TrialDays) ? SurvivalDifference.Between(before, after) : SurvivalDifference.None(Phrase.Of("years.other_trial", ("before", before.TrialDays), ("after", after.TrialDays)));
        return new YearStep(before, after, survival, DensityChange.Between(before, after), lines, first, Explaining(before, after, lines.Length));
    }

    private static bool IsKnown((string Line, LineYear Before, LineYear After) line) => line is { Before.Known: > 0, After.Known: > 0 };

    /// <summary>Sign of the change of the share whole, in whole numbers.</summary>
    private static long Change((string Line, LineYear Before, LineYear After) line) => ((long)line.After.Survived * line.Before.Known) - ((long)line.Before.Survived * line.After.Known);

    private static ImmutableArray<Phrase> Explaining(PastureYear before, PastureYear after, int shared)
    {
        var said = ImmutableArray.CreateBuilder<Phrase>();
        var (b, a) = (before.Conduct, after.Conduct);
        if (b.RainMm is { } was && a.RainMm is { } now && Math.Abs(now - was) > MuchTheSame * Math.Max(was, now)) said.Add(Phrase.Of("years.rain", ("before", before.Label), ("was", was), ("after", after.Label), ("now", now)));
        else if (b.RainMm is null || a.RainMm is null) said.Add(Phrase.Of("years.rain_not_known"));
        if (b.SetOn is { } on && a.SetOn is { } later && Math.Abs(DaysApart(on.Middle, later.Middle)) is > FewDays and <= PoolingCautions.MostDaysApart and var days) said.Add(Phrase.Of("years.dates", ("days", days)));
        if (!b.Crew.IsEmpty && !a.Crew.IsEmpty && !b.Crew.SequenceEqual(a.Crew)) said.Add(Phrase.Of("years.crew"));
        if (OtherCover(b, a) is { } cover) said.Add(cover);
        var whole = Math.Max(before.Lines.Length, after.Lines.Length);
        if (shared == 0) said.Add(Phrase.Of("years.other_lines"));
        else if (shared < whole) said.Add(Phrase.Of("years.some_lines", ("shared", shared), ("lines", whole)));
        return said.ToImmutable();
    }

    /// <summary>The cover class whose share of the nests changed most, where that is much.</summary>
    private static Phrase? OtherCover(SeasonConduct before, SeasonConduct after)
    {
        double Share(SeasonConduct of, string cover) => of.Covers.Sum(c => c.Nests) is > 0 and var all ? of.Covers.Where(c => c.Cover == cover).Sum(c => (double)c.Nests) / all : 0;
        var most = before.Covers.Concat(after.Covers).Select(c => c.Cover).Distinct(StringComparer.Ordinal).OrderByDescending(c => Math.Abs(Share(after, c) - Share(before, c))).ThenBy(c => c, StringComparer.Ordinal).FirstOrDefault();
        if (most is null || Math.Abs(Share(after, most) - Share(before, most)) < FewPoints) return null;
        return Phrase.Of("years.cover", ("cover", most), ("was", Share(before, most)), ("now", Share(after, most)));
    }

    private static int DaysApart(DateOnly a, DateOnly b) => PoolingCautions.DayInYear(b) - PoolingCautions.DayInYear(a);
}
