using System.Collections.Immutable;

namespace Tussock.Layout;

/// <summary>Sides of areas, or pieces of lines, in which near ones are found quickly: they are kept in runs of neighbours, each run with its box.</summary>
internal sealed class EdgeSet
{
    private const int Run = 16;
    private readonly Spot[] from, to;
    private readonly Box[] boxes;

    private EdgeSet(List<(Spot From, Spot To)> edges)
    {
        from = [.. edges.Select(e => e.From)];
        to = [.. edges.Select(e => e.To)];
        boxes = [.. Enumerable.Range(0, (edges.Count + Run - 1) / Run).Select(r => Box.Round(from.AsSpan()[(r * Run)..Math.Min(edges.Count, (r + 1) * Run)], to.AsSpan()[(r * Run)..Math.Min(edges.Count, (r + 1) * Run)]))];
    }

    /// <summary>The sides of closed rings.</summary>
    internal static EdgeSet OfRings(IEnumerable<ImmutableArray<Spot>> rings)
    {
        var edges = new List<(Spot, Spot)>();
        foreach (var ring in rings) for (var i = 0; i < ring.Length; i++) edges.Add((ring[i], ring[(i + 1) % ring.Length]));
        return new EdgeSet(edges);
    }

    /// <summary>The sides that a test lets stand.</summary>
    internal EdgeSet Where(Func<Spot, Spot, bool> stands) => new([.. from.Zip(to).Where(e => stands(e.First, e.Second))]);

    /// <summary>The pieces of open lines; a line of one point is a point.</summary>
    internal static EdgeSet OfLines(IEnumerable<ImmutableArray<Spot>> lines)
    {
        var edges = new List<(Spot, Spot)>();
        foreach (var line in lines)
        {
            if (line.Length == 1) edges.Add((line[0], line[0]));
            for (var i = 1; i < line.Length; i++) edges.Add((line[i - 1], line[i]));
        }

        return new EdgeSet(edges);
    }

    /// <summary>Whether a point lies inside closed rings: a ray from it crosses them an odd number of times. Holes and separate pieces are rings too.</summary>
    internal bool Contains(Spot at)
    {
        var inside = false;
        for (var r = 0; r < boxes.Length; r++)
        {
            if (at.NorthM < boxes[r].South || at.NorthM > boxes[r].North || at.EastM > boxes[r].East) continue;
            for (var i = r * Run; i < Math.Min(from.Length, (r + 1) * Run); i++)
            {
                var (a, b) = (from[i], to[i]);
                if (a.NorthM > at.NorthM != b.NorthM > at.NorthM && at.EastM < a.EastM + ((at.NorthM - a.NorthM) / (b.NorthM - a.NorthM) * (b.EastM - a.EastM))) inside = !inside;
            }
        }

        return inside;
    }

    /// <summary>Whether a side comes nearer to a straight piece than so many metres.</summary>
    internal bool IsNear(Spot start, Spot end, double metres)
    {
        var around = Box.Round([start], [end]).Grown(metres);
        for (var r = 0; r < boxes.Length; r++)
        {
            if (!around.Meets(boxes[r])) continue;
            for (var i = r * Run; i < Math.Min(from.Length, (r + 1) * Run); i++)
                if (around.Meets(Box.Round([from[i]], [to[i]])) && Gap.Of(start, end, from[i], to[i]) < metres) return true;
        }

        return false;
    }

    private readonly record struct Box(double West, double South, double East, double North)
    {
        internal static Box Round(ReadOnlySpan<Spot> from, ReadOnlySpan<Spot> to)
        {
            var box = new Box(double.PositiveInfinity, double.PositiveInfinity, double.NegativeInfinity, double.NegativeInfinity);
            foreach (var spot in from) box = box.With(spot);
            foreach (var spot in to) box = box.With(spot);
            return box;
        }

        internal Box Grown(double metres) => new(West - metres, South - metres, East + metres, North + metres);

        internal bool Meets(Box other) => West <= other.East && other.West <= East && South <= other.North && other.South <= North;

        private Box With(Spot s) => new(Math.Min(West, s.EastM), Math.Min(South, s.NorthM), Math.Max(East, s.EastM), Math.Max(North, s.NorthM));
    }
}
