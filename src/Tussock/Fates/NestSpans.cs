using System.Collections.Immutable;

namespace Tussock.Fates;

/// <summary>One row a nest, in columns: what the visits of each nest say about the time of its loss. The input of every estimator.</summary>
/// <remarks>
/// Rows are sorted by line, so the rows of a line are neighbours. Days are days since set-out and may be fractional.
/// A nest was intact at its last intact day a, and, if lost, lost in (a, b], or exactly at t where a camera timed it (a &lt; t ≤ b).
/// Nests lost on day 0 or before are in no row; planned nests neither. Columns must not be changed by readers. May be shared between threads.
/// </remarks>
public sealed class NestSpans
{
    /// <summary>An empty set of nests.</summary>
    public static NestSpans Empty { get; } = new() { LastIntact = [], FirstLost = [], LostAt = [], Line = [], Transect = [], Nest = [], Cover = [], Pasture = [], Cause = [], Day14 = [], Day28 = [], LineNames = [], CoverNames = [] };

    /// <summary>Day of the last intact visit, a ≥ 0; 0 when no visit found the nest intact.</summary>
    public required double[] LastIntact { get; init; }

    /// <summary>Day of the first visit that found the nest lost, b &gt; a; +∞ when none did.</summary>
    public required double[] FirstLost { get; init; }

    /// <summary>Day at which a camera saw the loss, a &lt; t ≤ b; NaN when none did. A nest may be lost by t alone (b = +∞).</summary>
    public required double[] LostAt { get; init; }

    /// <summary>Index of the line (the cluster) in <see cref="LineNames"/>; ascending. Two transects on one flag line share one.</summary>
    public required int[] Line { get; init; }

    /// <summary>Index of the transect in the season's list of transects.</summary>
    public required int[] Transect { get; init; }

    /// <summary>Number of the nest along its transect, 1 … n.</summary>
    public required int[] Nest { get; init; }

    /// <summary>Index of the cover class in <see cref="CoverNames"/>.</summary>
    public required int[] Cover { get; init; }

    /// <summary>Index of the pasture in the season's list of pastures.</summary>
    public required int[] Pasture { get; init; }

    /// <summary>Why the nest was lost.</summary>
    public required Cause[] Cause { get; init; }

    /// <summary>Fate at the first check day (14).</summary>
    public required FateAt[] Day14 { get; init; }

    /// <summary>Fate at the end of the trial (28).</summary>
    public required FateAt[] Day28 { get; init; }

    /// <summary>Names of the lines, by index.</summary>
    public required ImmutableArray<string> LineNames { get; init; }

    /// <summary>Names of the cover classes in the season's order, the reference first; classes outside the list follow.</summary>
    public required ImmutableArray<string> CoverNames { get; init; }

    /// <summary>Number of nests.</summary>
    public int Count => LastIntact.Length;

    /// <summary>Whether a visit after day 0 found the nest intact or lost, or a camera timed its loss: only such a nest informs about survival.</summary>
    public bool IsWatched(int row) => LastIntact[row] > 0 || IsLost(row);

    /// <summary>Whether the nest was found lost at any time, or a camera timed its loss.</summary>
    public bool IsLost(int row) => !double.IsPositiveInfinity(FirstLost[row]) || !double.IsNaN(LostAt[row]);

    /// <summary>Whether all columns hold the same; names by index are not compared.</summary>
    public bool SaysTheSame(NestSpans other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return LastIntact.AsSpan().SequenceEqual(other.LastIntact) && FirstLost.AsSpan().SequenceEqual(other.FirstLost) && LostAt.AsSpan().SequenceEqual(other.LostAt)
            && Line.AsSpan().SequenceEqual(other.Line) && Transect.AsSpan().SequenceEqual(other.Transect) && Nest.AsSpan().SequenceEqual(other.Nest)
            && Cover.AsSpan().SequenceEqual(other.Cover) && Pasture.AsSpan().SequenceEqual(other.Pasture)
            && Cause.AsSpan().SequenceEqual(other.Cause) && Day14.AsSpan().SequenceEqual(other.Day14) && Day28.AsSpan().SequenceEqual(other.Day28);
    }

    /// <summary>The rows for which <paramref name="keep"/> holds, in the same order, with the same names and indexes.</summary>
    public NestSpans Where(Func<int, bool> keep)
    {
        var rows = new List<int>(Count);
        for (var i = 0; i < Count; i++) if (keep(i)) rows.Add(i);
        return Rows(rows.ToArray());
    }

    /// <summary>The given rows, which must be in ascending order of line.</summary>
    public NestSpans Rows(int[] rows) => new()
    {
        LastIntact = Pick(LastIntact, rows),
        FirstLost = Pick(FirstLost, rows),
        LostAt = Pick(LostAt, rows),
        Line = Pick(Line, rows),
        Transect = Pick(Transect, rows),
        Nest = Pick(Nest, rows),
        Cover = Pick(Cover, rows),
        Pasture = Pick(Pasture, rows),
        Cause = Pick(Cause, rows),
        Day14 = Pick(Day14, rows),
        Day28 = Pick(Day28, rows),
        LineNames = LineNames,
        CoverNames = CoverNames,
    };

    /// <summary>The same nests in other classes of cover, for example by their role.</summary>
    /// <param name="classOf">Index of the new class for each index of an old one.</param>
    /// <param name="names">Names of the new classes.</param>
    public NestSpans InClasses(Func<int, int> classOf, ImmutableArray<string> names) => new()
    {
        LastIntact = LastIntact,
        FirstLost = FirstLost,
        LostAt = LostAt,
        Line = Line,
        Transect = Transect,
        Nest = Nest,
        Cover = Array.ConvertAll(Cover, c => classOf(c)),
        Pasture = Pasture,
        Cause = Cause,
        Day14 = Day14,
        Day28 = Day28,
        LineNames = LineNames,
        CoverNames = names,
    };

    private static T[] Pick<T>(T[] column, int[] rows)
    {
        var picked = new T[rows.Length];
        for (var i = 0; i < rows.Length; i++) picked[i] = column[rows[i]];
        return picked;
    }
}
