using Tussock.Fates;

namespace Tussock.Tests.Survival;

/// <summary>Nests written as what is known of each, and the slow and obvious curve: places by their definition, sums over all pairs.</summary>
internal static class CurveNests
{
    /// <summary>Spans of nests given as (a, b) or (a, b, t), all on line 0 unless lines are given.</summary>
    public static NestSpans Of(IReadOnlyList<(double A, double B, double T)> known, int[]? lines = null) => new()
    {
        LastIntact = [.. known.Select(k => k.A)],
        FirstLost = [.. known.Select(k => k.B)],
        LostAt = [.. known.Select(k => k.T)],
        Line = lines ?? new int[known.Count],
        Transect = lines ?? new int[known.Count],
        Nest = [.. Enumerable.Range(1, known.Count)],
        Cover = new int[known.Count],
        Pasture = new int[known.Count],
        Cause = new Cause[known.Count],
        Day14 = [.. known.Select(k => ReferenceSeason.Fate(k.A, k.B, k.T, 14, 3))],
        Day28 = [.. known.Select(k => ReferenceSeason.Fate(k.A, k.B, k.T, 28, 3))],
        LineNames = [.. Enumerable.Range(0, (lines?.Max() ?? 0) + 1).Select(l => "line " + l)],
        CoverNames = ["grass"],
    };

    /// <summary>Nests from three small numbers each: what a property is given and can shrink.</summary>
    public static List<(double A, double B, double T)> From(IEnumerable<(byte Day, byte Gap, byte Kind)> seeds) => [.. seeds.Select(s =>
    {
        double a = s.Day % 31, b = a + 1 + (s.Gap % 16);
        return (s.Kind % 6) switch
        {
            0 => (a, double.PositiveInfinity, double.NaN),
            1 => (a, b, b - (0.25 * (s.Kind % 4))),
            2 => (0, b, double.NaN),
            _ => (a, b, double.NaN),
        };
    })];

    /// <summary>Every place where mass may lie: a left end and the next right end with no end between, straight from the definition.</summary>
    public static List<(double Left, double Right)> Places(IReadOnlyList<(double A, double B, double T)> known)
    {
        var watched = Watched(known);
        var lefts = watched.Select(k => (Day: k.Left, Order: k.Left == k.Right ? 0 : 2)).Distinct().ToList();
        var rights = watched.Select(k => (Day: k.Right, Order: 1)).Distinct().ToList();
        return [.. (from q in lefts
                    from p in rights
                    where q.CompareTo(p) < 0 && !lefts.Concat(rights).Any(e => e.CompareTo(q) > 0 && e.CompareTo(p) < 0)
                    orderby q
                    select (q.Day, p.Day))];
    }

    /// <summary>Greatest reduced gradient − 1 over all places, and the log-likelihood, by sums over all pairs.</summary>
    public static (double Residual, double LogLikelihood) Judge(IReadOnlyList<(double A, double B, double T)> known, IReadOnlyList<(double Left, double Right, double Mass)> masses)
    {
        var watched = Watched(known);
        var chances = watched.Select(k => masses.Where(m => Holds(k, (m.Left, m.Right))).Sum(m => m.Mass)).ToArray();
        var gradients = Places(known).Select(place => watched.Select((k, i) => Holds(k, place) ? 1 / chances[i] : 0).Sum() / watched.Count);
        return (gradients.Max() - 1, chances.Sum(Math.Log));
    }

    /// <summary>Masses after a number of plain expectation–maximisation steps from equal masses.</summary>
    public static List<(double Left, double Right, double Mass)> ExpectationMaximisation(IReadOnlyList<(double A, double B, double T)> known, int steps)
    {
        var watched = Watched(known);
        var places = Places(known);
        var theta = Enumerable.Repeat(1.0 / places.Count, places.Count).ToArray();
        var holds = watched.Select(k => Enumerable.Range(0, places.Count).Where(j => Holds(k, places[j])).ToArray()).ToArray();
        for (var step = 0; step < steps; step++)
        {
            var next = new double[places.Count];
            foreach (var run in holds)
            {
                var chance = run.Sum(j => theta[j]);
                foreach (var j in run) next[j] += theta[j] / chance / watched.Count;
            }

            theta = next;
        }

        return [.. places.Select((p, j) => (p.Left, p.Right, theta[j]))];
    }

    private static List<(double Left, double Right)> Watched(IEnumerable<(double A, double B, double T)> known) =>
        [.. known.Where(k => k.A > 0 || !double.IsPositiveInfinity(k.B) || !double.IsNaN(k.T)).Select(k => double.IsNaN(k.T) ? (k.A, k.B) : (k.T, k.T))];

    // (left, right] holds a place between its ends; an exact time holds only its own point, and (a, b] with a = t doesn't hold t.
    private static bool Holds((double Left, double Right) known, (double Left, double Right) place) => known.Left == known.Right
        ? place == known
        : place.Left >= known.Left && place.Right <= known.Right && !(place.Left == place.Right && place.Left == known.Left);
}
