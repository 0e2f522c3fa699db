using Tussock.Fates;

namespace Tussock.Survival;

/// <summary>The places where a curve may hold mass, and for each nest the run of places where it may have been lost.</summary>
/// <remarks>
/// An innermost interval runs from a left end to the next right end with no other end between (Turnbull 1976). At equal days the order is:
/// an exact time opens, right ends close, left-open ends open. Nests that admit the same places are one row. Rows are sorted by their last place.
/// </remarks>
internal sealed class InnermostIntervals
{
    private readonly Dictionary<Observation, int> kinds = [];
    private readonly List<double> counts = [];

    private InnermostIntervals(NestSpans nests)
    {
        var kindOf = new int[nests.Count];
        for (var i = 0; i < kindOf.Length; i++) kindOf[i] = nests.IsWatched(i) ? Kind(nests, i) : -1;
        var observations = kinds.Keys.ToArray();
        var ends = Ends(observations);
        (Left, Right) = Places(ends);
        var rowOfKind = Rows(observations, ends);
        RowOf = Array.ConvertAll(kindOf, kind => kind < 0 ? -1 : rowOfKind[kind]);
    }

    /// <summary>Left ends of the innermost intervals, ascending.</summary>
    internal double[] Left { get; }

    /// <summary>Right ends; +∞ after the last visit; equal to the left end for an exact time.</summary>
    internal double[] Right { get; }

    /// <summary>First place of each row.</summary>
    internal int[] From { get; private set; } = [];

    /// <summary>Place after the last one of each row; ascending.</summary>
    internal int[] To { get; private set; } = [];

    /// <summary>Number of nests in each row.</summary>
    internal double[] Weight { get; private set; } = [];

    /// <summary>Row of each nest; −1 for a nest never watched, which carries nothing.</summary>
    internal int[] RowOf { get; }

    internal static InnermostIntervals Of(NestSpans nests) => new(nests);

    private int Kind(NestSpans nests, int i)
    {
        var t = nests.LostAt[i];
        var seen = double.IsNaN(t) ? new Observation(nests.LastIntact[i], nests.FirstLost[i]) : new Observation(t, t);
        if (!kinds.TryGetValue(seen, out var kind))
        {
            kinds.Add(seen, kind = counts.Count);
            counts.Add(0);
        }

        counts[kind]++;
        return kind;
    }

    private static End[] Ends(Observation[] observations)
    {
        var all = new HashSet<End>(2 * observations.Length);
        foreach (var one in observations)
        {
            all.Add(one.Opens);
            all.Add(one.Closes);
        }

        var ends = all.ToArray();
        Array.Sort(ends);
        return ends;
    }

    private static (double[] Left, double[] Right) Places(End[] ends)
    {
        List<double> left = [], right = [];
        for (var e = 1; e < ends.Length; e++)
        {
            if (!ends[e].IsRight || ends[e - 1].IsRight) continue;
            left.Add(ends[e - 1].Day);
            right.Add(ends[e].Day);
        }

        return (left.ToArray(), right.ToArray());
    }

    /// <summary>Finds each kind's run of places, joins kinds with the same run and sorts; gives the row of each kind.</summary>
    private int[] Rows(Observation[] observations, End[] ends)
    {
        var closedBefore = new Dictionary<End, int>(ends.Length);
        for (int e = 0, closed = 0; e < ends.Length; e++)
        {
            if (e > 0 && ends[e].IsRight && !ends[e - 1].IsRight) closed++;
            closedBefore.Add(ends[e], closed);
        }

        var runs = Array.ConvertAll(observations, one => (To: closedBefore[one.Closes], From: closedBefore[one.Opens]));
        var sorted = runs.Distinct().Order().ToArray();
        From = Array.ConvertAll(sorted, run => run.From);
        To = Array.ConvertAll(sorted, run => run.To);
        Weight = new double[sorted.Length];
        var rowOfKind = Array.ConvertAll(runs, run => Array.BinarySearch(sorted, run));
        for (var kind = 0; kind < rowOfKind.Length; kind++) Weight[rowOfKind[kind]] += counts[kind];
        return rowOfKind;
    }

    private readonly record struct Observation(double Left, double Right)
    {
        public End Opens => new(Left, Left == Right ? 0 : 2);

        public End Closes => new(Right, 1);
    }

    private readonly record struct End(double Day, int Order) : IComparable<End>
    {
        public bool IsRight => Order == 1;

        public int CompareTo(End other) => Day != other.Day ? Day.CompareTo(other.Day) : Order.CompareTo(other.Order);
    }
}
