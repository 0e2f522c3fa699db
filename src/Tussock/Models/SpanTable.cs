using System.Collections.Immutable;
using System.Runtime.InteropServices;
using Tussock.Fates;

namespace Tussock.Models;

/// <summary>Adds up nests in columns to a table for models whose effects belong to the nest, with or without another hazard after the first check.</summary>
public static class SpanTable
{
    /// <summary>Name of the column that is 1 after the cut.</summary>
    public const string AfterCut = "after the first check";

    /// <summary>The table, a group a line.</summary>
    /// <param name="nests">One row a nest, rows of a line together; those that were never watched say nothing and are left out.</param>
    /// <param name="effects">Names of the effects; an intercept goes before them, and <see cref="AfterCut"/> after it where there is a cut.</param>
    /// <param name="of">Writes the effects of a nest, given its row.</param>
    /// <param name="cut">Day after which the hazard may be another, &gt; 0; null: one hazard.</param>
    /// <returns>Rows as lost in (a, b], cut into pieces, or at camera time t; equal losses of a line are one loss with a weight.</returns>
    public static ModelTable Of(NestSpans nests, ImmutableArray<string> effects, Action<int, Span<double>> of, double? cut = null)
    {
        var first = cut is null ? 1 : 2;
        var maker = new ModelTableMaker(cut is null ? ["intercept", .. effects] : ["intercept", AfterCut, .. effects]);
        var lost = new Dictionary<(int Before, double First, int After, double Second), double>();
        var x = new double[first + effects.Length];
        x[0] = 1;
        var line = -1;
        for (var row = 0; row < nests.Count; row++)
        {
            if (!nests.IsWatched(row)) continue;
            if (nests.Line[row] != line)
            {
                Close(maker, lost);
                line = nests.Line[row];
                maker.Group(nests.LineNames[line]);
            }

            of(row, x.AsSpan(first));
            Add(new Row(nests, row, cut ?? double.PositiveInfinity), maker, x, lost);
            maker.Nests++;
        }

        Close(maker, lost);
        return maker.Table();
    }

    private static void Add(Row row, ModelTableMaker maker, double[] x, Dictionary<(int, double, int, double), double> lost)
    {
        var before = Pattern(maker, x, row.HasCut, 0);
        var after = row.HasCut && row.ReachesAfter ? Pattern(maker, x, true, 1) : before;
        var (d1, d2) = row.Days(row.WatchedTo);
        if (d1 > 0) maker.Watched(before, d1);
        if (d2 > 0) maker.Watched(after, d2);
        maker.Intervals += (row.WatchedTo > 0 && !row.IsTimed ? 1 : 0) + (row.IsLost ? 1 : 0);
        if (row.IsTimed) maker.LostAt(row.WatchedTo <= row.Cut ? before : after);
        else if (row.IsLost)
        {
            var (e1, e2) = row.Days(row.FoundLost);
            ref var times = ref CollectionsMarshal.GetValueRefOrAddDefault(lost, (before, e1 - d1, after, e2 - d2), out _);
            times++;
        }
    }

    private static int Pattern(ModelTableMaker maker, double[] x, bool hasCut, double after)
    {
        if (hasCut) x[1] = after;
        return maker.Pattern(x);
    }

    private static void Close(ModelTableMaker maker, Dictionary<(int Before, double First, int After, double Second), double> lost)
    {
        foreach (var ((before, first, after, second), times) in lost.OrderBy(l => l.Key))
        {
            if (first > 0 && second > 0) maker.LostWithin([(before, first), (after, second)], times);
            else if (second > 0) maker.LostWithin(after, second, times);
            else maker.LostWithin(before, first, times);
        }

        lost.Clear();
    }

    /// <summary>One nest and the cut.</summary>
    private readonly record struct Row(NestSpans Nests, int At, double Cut)
    {
        public bool HasCut => !double.IsPositiveInfinity(Cut);

        public bool IsTimed => !double.IsNaN(Nests.LostAt[At]);

        public bool IsLost => Nests.IsLost(At);

        public double WatchedTo => IsTimed ? Nests.LostAt[At] : Nests.LastIntact[At];

        public double FoundLost => Nests.FirstLost[At];

        public bool ReachesAfter => WatchedTo > Cut || (IsLost && !IsTimed && FoundLost > Cut);

        public (double Before, double After) Days(double day) => (Math.Min(day, Cut), Math.Max(day - Cut, 0));
    }
}
