using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Do losses lie together along the line, more than chance would put them?</summary>
public static class RunsTest
{
    /// <summary>Longest line whose arrangements are counted exactly; beyond it they are drawn.</summary>
    public const int LongestExact = 60;

    /// <summary>Most cover classes on a line whose arrangements are counted exactly; beyond it they are drawn.</summary>
    public const int MostClassesExact = 3;

    /// <summary>Number of arrangements drawn where they can't be counted.</summary>
    public const int Permutations = 9999;

    /// <summary>The losses of every line in walking order, and how many runs chance would have made of them.</summary>
    /// <param name="nests">n nests in any order; each transect is a line, its nests in order of their number.</param>
    /// <param name="fates">One fate a nest at the check in question (<see cref="NestSpans.Day28"/> or <see cref="NestSpans.Day14"/>); unknown nests are taken out and the gap is closed.</param>
    /// <param name="seed">Seed for lines whose arrangements are drawn; the stream is the transect's index, so a line's draws don't depend on which other lines are asked for.</param>
    /// <returns>One entry a line with a nest of known fate, in order of transect.</returns>
    /// <remarks>
    /// Chance: all arrangements of a line's losses within each cover class equally likely, so that a cover that does worse makes no false alarm.
    /// Cost: a line of n nests with k_c losses in class c takes about n²·∏(k_c + 1) additions.
    /// </remarks>
    /// <source>Wald &amp; Wolfowitz 1940, Annals of Mathematical Statistics 11:147–162 (runs), from memory, to be confirmed; arrangements within cover classes: common practice, no source.</source>
    /// <check>reference-seasons</check>
    public static ImmutableArray<LineOfLosses> Lines(NestSpans nests, FateAt[] fates, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(nests);
        ArgumentNullException.ThrowIfNull(fates);
        var groups = Enumerable.Range(0, nests.Count).Where(i => fates[i] != FateAt.Unknown)
            .OrderBy(i => nests.Transect[i]).ThenBy(i => nests.Nest[i]).ThenBy(i => nests.Cover[i]).ThenBy(i => fates[i])
            .GroupBy(i => nests.Transect[i]).Select(line => line.ToArray()).ToArray();
        var lines = new LineOfLosses[groups.Length];
        Ordered.WithRoom(groups.Length, () => new RunsDistribution(), (g, distribution) =>
        {
            var rows = groups[g];
            lines[g] = LineOfLosses.Of(nests.Transect[rows[0]], nests.Pasture[rows[0]], Array.ConvertAll(rows, i => fates[i] == FateAt.Lost), Array.ConvertAll(rows, i => nests.Cover[i]), distribution, seed);
        });
        return [.. lines];
    }

    /// <summary>Do losses lie together on these lines taken together?</summary>
    /// <param name="lines">Lines of one group, any order; a line is informative if some cover class on it has both lost and intact nests, the others are left out.</param>
    /// <returns>Counts, runs, expected runs and one-sided p = P(R ≤ r) in (0, 1], or the reason: no line is informative.</returns>
    /// <remarks>
    /// Exact: distributions of lines joined two by two (convolution); error below 1e-12, from an upper tail of 1e-18 cut at each joining.
    /// Where lines were drawn, p = (1 + Σ P(R ≤ r given the draw))/(draws + 1). A trend along the line gives few runs too: said in the notes.
    /// </remarks>
    /// <source>Wald &amp; Wolfowitz 1940, Annals of Mathematical Statistics 11:147–162 (runs), from memory, to be confirmed; Phipson &amp; Smyth 2010, Statistical Applications in Genetics and Molecular Biology 9, article 39 (the 1 in drawn p), from memory, to be confirmed.</source>
    /// <check>reference-seasons</check>
    public static Answer<RunsOfLosses> Together(IEnumerable<LineOfLosses> lines)
    {
        var informative = lines.Where(line => line.IsInformative).OrderBy(line => line.Transect).ToArray();
        if (informative.Length == 0) return NoAnswer.Because("runs.not_informative");
        var runs = informative.Sum(line => line.Runs);
        var drawn = informative.Where(line => line.Drawn is not null).ToArray();
        var exact = Convolution.Of([.. informative.Where(line => line.Distribution is not null).Select(line => line.Distribution!)]);
        return new RunsOfLosses
        {
            Lines = informative.Length,
            Nests = informative.Sum(line => line.Nests),
            Lost = informative.Sum(line => line.Lost),
            Runs = runs,
            Expected = informative.Sum(line => line.Expected),
            P = Math.Min(1, drawn.Length == 0 ? exact.UpTo(runs) : Drawn(drawn, exact, runs)),
            Notes = drawn.Length == 0 ? [Phrase.Of("runs.trend")] : [Phrase.Of("runs.trend"), Phrase.Of("runs.drawn", ("lines", drawn.Length), ("draws", Permutations))],
        };
    }

    private static double Drawn(LineOfLosses[] drawn, Convolution exact, int runs)
    {
        double sum = 1;
        for (var d = 0; d < Permutations; d++) sum += exact.UpTo(runs - drawn.Sum(line => line.Drawn![d]));
        return sum / (Permutations + 1);
    }
}

/// <summary>Runs of losses along the lines of a group.</summary>
public sealed record RunsOfLosses
{
    /// <summary>Informative lines.</summary>
    public required int Lines { get; init; }

    /// <summary>Nests of known fate on them.</summary>
    public required int Nests { get; init; }

    /// <summary>Lost nests among these.</summary>
    public required int Lost { get; init; }

    /// <summary>Runs of like fates, summed over lines: changes + 1 a line.</summary>
    public required int Runs { get; init; }

    /// <summary>Runs that chance would make, on average.</summary>
    public required double Expected { get; init; }

    /// <summary>Chance of so few runs or fewer when losses fall anywhere within their cover classes, in (0, 1].</summary>
    public required double P { get; init; }

    /// <summary>What has to be said beside the numbers.</summary>
    public required ImmutableArray<Phrase> Notes { get; init; }
}
