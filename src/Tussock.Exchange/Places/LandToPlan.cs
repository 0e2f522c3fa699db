using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Tussock.Exchange.GeoJson;
using Tussock.Land;
using Tussock.Layout;
using Tussock.Records;

namespace Tussock.Exchange.Places;

/// <summary>How far lines keep away from each kind of thing, in metres.</summary>
/// <param name="RoadsM">From roads.</param>
/// <param name="WaterM">From water.</param>
/// <param name="OthersM">From all else that is kept out.</param>
public readonly record struct KeepAway(double RoadsM, double WaterM, double OthersM);

/// <summary>Takes the land of a layout from the things of a map: areas are pastures or strata, and what lines keep away from is anything.</summary>
public static class LandToPlan
{
    private static readonly string[] Roads = ["road", "track", "trail", "lane", "two-track"];
    private static readonly string[] Waters = ["water", "pond", "tank", "stock tank", "river", "creek", "stream"];

    /// <summary>The areas, by property, pasture and stratum; several things of one name are its pieces.</summary>
    /// <param name="features">Things of a map; those that are no areas are passed over.</param>
    /// <param name="property">Property of those that name none.</param>
    /// <param name="unnamed">Name of a pasture that has none, before its number.</param>
    public static ImmutableArray<LayoutArea> Areas(IEnumerable<MapFeature> features, string property, string unnamed)
    {
        var number = 0;
        return [.. features.Where(f => f.Shape is MapArea).Select(f => (Key: (Property: Named(f, "property", property), Pasture: Named(f, "pasture", f.Name.Length > 0 ? f.Name : Next()), Stratum: f.Field("stratum")), Area: (MapArea)f.Shape))
            .GroupBy(f => f.Key).Select(g => new LayoutArea(g.Key.Property, g.Key.Pasture, g.Key.Stratum, new Boundary([.. g.SelectMany(f => f.Area.Pieces).SelectMany(p => p.Rings)])))];

        string Next() => unnamed + " " + (++number).ToString(CultureInfo.InvariantCulture);
    }

    /// <summary>What lines keep away from: areas, lines and points, by their field <c>kind</c>; a field <c>keep_m</c> sets the distance of one thing alone.</summary>
    public static ImmutableArray<LayoutZone> Zones(IEnumerable<MapFeature> features, KeepAway keep) => [.. features.Select(f => Zone(f, keep))];

    /// <summary>The areas as the text of <c>pastures.geojson</c>.</summary>
    public static string BoundaryText(IEnumerable<LayoutArea> areas) => Text(areas.Select(a => new MapFeature(a.Stratum.Length > 0 ? a.Pasture + ", " + a.Stratum : a.Pasture,
        new MapArea(Rings.Assembled([.. a.Boundary.Rings.Select(r => Rings.Closed(r)).OfType<ImmutableArray<Position>>()])),
        [new MapField("property", a.Property), new MapField("pasture", a.Pasture), .. a.Stratum.Length > 0 ? new[] { new MapField("stratum", a.Stratum) } : []])));

    /// <summary>Things of a map as the text of <c>zones.geojson</c>.</summary>
    public static string ZoneText(IEnumerable<MapFeature> features) => Text(features);

    private static string Text(IEnumerable<MapFeature> features)
    {
        using var stream = new MemoryStream();
        GeoJsonWriter.Write(new MapDocument("", "", [.. features]), stream);
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    private static LayoutZone Zone(MapFeature feature, KeepAway keep)
    {
        var kind = new[] { feature.Field(MapFeature.Kind), feature.Field("type") }.FirstOrDefault(t => t.Length > 0, "").ToLowerInvariant();
        var metres = Cell.Number(feature.Field("keep_m")) is { } own and >= 0 ? own : Roads.Contains(kind) ? keep.RoadsM : Waters.Contains(kind) ? keep.WaterM : keep.OthersM;
        var name = feature.Name.Length > 0 ? feature.Name : kind;
        return feature.Shape switch
        {
            MapArea area => new LayoutZone(name, true, [.. area.Pieces.SelectMany(p => p.Rings)], metres),
            MapLine line => new LayoutZone(name, false, [line.Points], metres),
            MapPoint point => new LayoutZone(name, false, [[point.At]], metres),
            _ => throw new ArgumentException("Unknown shape", nameof(feature)),
        };
    }

    private static string Named(MapFeature feature, string field, string otherwise) => feature.Field(field) is { Length: > 0 } name ? name : otherwise;
}
