using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Numerics;

namespace Tussock.Tests.Layout;

/// <summary>Invented pastures of every awkward kind, from a seed.</summary>
internal static class Lands
{
    internal static readonly string[] Kinds = ["star", "comb", "holed", "sliver", "pieces", "date line", "tiny", "tangled", "far north", "many corners"];

    /// <summary>A pasture of one kind.</summary>
    internal static Boundary Of(string kind, Seeded chance)
    {
        var latitude = kind == "far north" ? 60 + (8 * chance.NextUniform()) : -40 + (80 * chance.NextUniform());
        var longitude = kind == "date line" ? 180 + (0.004 * (chance.NextUniform() - 0.5)) : -179 + (358 * chance.NextUniform());
        var plane = new LocalPlane(new Position(latitude, longitude > 180 ? longitude - 360 : longitude));
        var size = kind == "tiny" ? 5 + (60 * chance.NextUniform()) : 250 * Math.Pow(10, chance.NextUniform());
        IEnumerable<(double, double)[]> rings = kind switch
        {
            "comb" => [Comb(size, chance)],
            "holed" => [Star(size, 9, 0.5, chance), .. Enumerable.Range(0, 3).Select(i => Shifted(Star(size / 8, 6, 0.5, chance), (i - 1) * size / 2.5, size / 10 * (i - 1)))],
            "sliver" => [Turned([(-size, 0), (size, 0), (size, size / 40), (-size, size / 35)], 6.28 * chance.NextUniform())],
            "pieces" => [Shifted(Star(size / 2, 7, 0.4, chance), -size, 0), Shifted(Star(size / 2, 7, 0.4, chance), size, size / 3), Shifted(Star(size / 20, 5, 0.4, chance), 0, size)],
            "tangled" => [[.. Enumerable.Range(0, 7).Select(_ => (size * (chance.NextUniform() - 0.5), size * (chance.NextUniform() - 0.5)))]],
            "many corners" => [Star(size, 400, 0.05, chance)],
            _ => [Star(size, 5 + chance.NextBelow(12), 0.7, chance)],
        };
        return new Boundary([.. rings.Select(r => r.Select(p => Rounded(plane.Place(p.Item1, p.Item2))).ToImmutableArray())]);
    }

    private static Position Rounded(Position p) => new(Math.Round(p.Latitude, 7), Math.Round(p.Longitude, 7));

    /// <summary>Corners at equal angles and unequal distances: concave in all ways.</summary>
    private static (double, double)[] Star(double size, int corners, double depth, Seeded chance) =>
        [.. Enumerable.Range(0, corners).Select(i => (Angle: 2 * Math.PI * i / corners, Far: size * (1 - (depth * chance.NextUniform())))).Select(c => (c.Far * Math.Cos(c.Angle), c.Far * Math.Sin(c.Angle)))];

    private static (double, double)[] Comb(double size, Seeded chance)
    {
        var teeth = 2 + chance.NextBelow(4);
        var wide = 2 * size / ((2 * teeth) - 1);
        var ring = new List<(double, double)> { (-size, -size / 2) };
        for (var i = 0; i < teeth; i++)
        {
            var left = -size + (2 * i * wide);
            if (i > 0) ring.AddRange([(left, 0)]);
            ring.AddRange([(left, size), (left + wide, size)]);
            if (i < teeth - 1) ring.Add((left + wide, 0));
        }

        ring.Add((size, -size / 2));
        return Turned([.. ring], 6.28 * chance.NextUniform());
    }

    private static (double, double)[] Shifted((double X, double Y)[] ring, double x, double y) => [.. ring.Select(p => (p.X + x, p.Y + y))];

    private static (double, double)[] Turned((double X, double Y)[] ring, double angle) =>
        [.. ring.Select(p => ((p.X * Math.Cos(angle)) - (p.Y * Math.Sin(angle)), (p.X * Math.Sin(angle)) + (p.Y * Math.Cos(angle))))];
}
