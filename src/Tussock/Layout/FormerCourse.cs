using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Layout;

/// <summary>Flags along the path of a former year's line.</summary>
internal static class FormerCourse
{
    /// <summary>A former line may end so much of a stretch before its last flag, because places are off.</summary>
    private const double Short = 0.1;

    /// <summary>The flags for so many stations: the former ones where the path has as many, else at equal stretches along it; fewer when it ends before.</summary>
    internal static ImmutableArray<Position> Flags(FormerLine line, LayoutRules rules)
    {
        if (line.Path.Length > rules.Stations) return line.Path[..(rules.Stations + 1)];
        var plane = LayoutPlane.Over(line.Path);
        var path = line.Path.Select(plane.At).ToArray();
        var flags = ImmutableArray.CreateBuilder<Position>();
        flags.Add(line.Path[0]);
        for (var station = 1; station <= rules.Stations; station++)
        {
            var (spot, missing) = Along(path, station * rules.BetweenM);
            if (missing > Short * rules.BetweenM) break;
            flags.Add(plane.Place(spot));
        }

        return flags.ToImmutable();
    }

    /// <summary>The point at so many metres along a path, and by how much the path is shorter than that.</summary>
    private static (Spot Spot, double MissingM) Along(Spot[] path, double metres)
    {
        for (var i = 1; i < path.Length; i++)
        {
            var (from, to) = (path[i - 1], path[i]);
            var length = Gap.ToPiece(from, to, to);
            if (metres <= length && length > 0) return (new Spot(from.EastM + ((to.EastM - from.EastM) * metres / length), from.NorthM + ((to.NorthM - from.NorthM) * metres / length)), 0);
            metres -= length;
        }

        return (path[^1], metres);
    }
}
