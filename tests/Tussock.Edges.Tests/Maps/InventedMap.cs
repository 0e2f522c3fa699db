using System.Collections.Immutable;
using Tussock.Exchange.Places;
using Tussock.Land;

namespace Tussock.Edges.Tests.Maps;

/// <summary>Maps made at random: names in several scripts, places all over the earth, areas with holes and pieces.</summary>
internal static class InventedMap
{
    private static readonly string[] Names = ["T2 flag 5", "Ñandú & Söhne", "<b>“South”</b>", "水場 7", "a;b,c\\d", "it's  two", "🦝 east", "x"];

    /// <summary>A map of a seed: no place on the date line, so that every format keeps every number.</summary>
    internal static MapDocument Of(int seed)
    {
        var random = new Random(seed);
        var features = Enumerable.Range(0, random.Next(1, 12)).Select(_ => Feature(random)).ToImmutableArray();
        return new MapDocument(Name(random), Name(random), features);
    }

    /// <summary>The things of one kind of shape, in order.</summary>
    internal static MapFeature[] Only<T>(IEnumerable<MapFeature> features)
        where T : MapShape => [.. features.Where(f => f.Shape is T)];

    private static MapFeature Feature(Random random)
    {
        MapShape shape = random.Next(3) switch
        {
            0 => new MapPoint(Place(random)),
            1 => Line(random),
            _ => Area(random),
        };
        var names = new[] { "transect", "nest", "cover", "position_source" }.Where(_ => random.Next(2) == 0);
        return new MapFeature(Name(random), shape, [.. names.Select(n => new MapField(n, Name(random)))]);
    }

    private static MapLine Line(Random random)
    {
        var at = Place(random);
        return new MapLine([.. Enumerable.Range(0, random.Next(2, 6)).Select(i => at with { Longitude = Math.Clamp(at.Longitude + (i * random.NextDouble() / 100), -179.9, 179.9) })]);
    }

    /// <summary>One to three boxes side by side, each with up to two holes.</summary>
    private static MapArea Area(Random random)
    {
        var (south, west) = ((random.NextDouble() * 160) - 80, (random.NextDouble() * 340) - 170);
        return new MapArea([.. Enumerable.Range(0, random.Next(1, 4)).Select(i => Box(random, south, west + (i * 1.5)))]);
    }

    private static MapPolygon Box(Random random, double south, double west)
    {
        var holes = Enumerable.Range(0, random.Next(3)).Select(h => Rings.Turned(Ring(south + 0.1 + (h * 0.4), west + 0.1 + (random.NextDouble() / 10), 0.3), false));
        return new MapPolygon(Rings.Turned(Ring(south, west, 1), true), [.. holes]);
    }

    private static ImmutableArray<Position> Ring(double south, double west, double size) =>
        [new(south, west), new(south, west + size), new(south + size, west + size), new(south + size, west), new(south, west)];

    private static Position Place(Random random) => new(Math.Round((random.NextDouble() * 180) - 90, random.Next(16)), Math.Round((random.NextDouble() * 359.8) - 179.9, random.Next(16)));

    private static string Name(Random random) => Names[random.Next(Names.Length)];
}
