using System.Collections.Immutable;
using System.Globalization;
using Tussock.Exchange.GeoJson;
using Tussock.Land;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Exchange.Places;

/// <summary>The exact places of a season as a map: boundaries of pastures, lines through their flags, starts, ends, flags and nests.</summary>
/// <remarks>Only places that were recorded. Notes, landmarks and names of people stay at home. What goes with a thing has the name of the folder's column.</remarks>
public static class SeasonMap
{
    /// <summary>Kind of a line: drawn through its start, flags and end, which stand on the map themselves.</summary>
    internal const string Transect = "transect";

    private static readonly ImmutableArray<string> OfTransect = ["set_on", "bearing_true_deg", "step_m", "steps_between"];
    private static readonly ImmutableArray<string> OfNest = ["cover", "status", "position_source", "gps_accuracy_m"];
    private static readonly ImmutableArray<string> OfWay = ["steps", "direction", "direction_sense", "north"];

    /// <summary>The map.</summary>
    public static MapDocument Of(Season season, Catalogue words)
    {
        var areas = season.Tables.Texts.TryGetValue(BoundaryText.File, out var text) ? BoundaryText.Read(text) : [];
        var pastures = season.Pastures.Where(p => areas.ContainsKey((p.Property, p.Name)))
            .Select(p => new MapFeature(p.Name, areas[(p.Property, p.Name)], Fields("pasture", p, p.Source, ["area_ha"])));
        var stations = season.Nests.ToLookup(n => n.Transect);
        var lines = season.Transects.Select(t => (Transect: t, Points: Through(t, stations[t]))).Where(l => l.Points.Length > 1)
            .Select(l => new MapFeature(l.Transect.Name, new MapLine(l.Points), OnLine(Transect, l.Transect, OfTransect)));
        var points = season.Transects.SelectMany(t => Ends(t, words).Concat(stations[t].OrderBy(n => n.Number).SelectMany(n => Station(n, words))));
        return new MapDocument(season.Settings.Title, words.Say("maps.exact"), [.. pastures, .. lines, .. points]);
    }

    private static ImmutableArray<Position> Through(Transect transect, IEnumerable<Nest> stations)
    {
        var points = new List<Position>();
        foreach (var at in stations.OrderBy(n => n.Number).Select(n => n.Flag).Prepend(transect.Start).Append(transect.End)) if (at is { } place && (points.Count == 0 || points[^1] != place)) points.Add(place);
        return [.. points];
    }

    private static IEnumerable<MapFeature> Ends(Transect transect, Catalogue words)
    {
        if (transect.Start is { } start) yield return new MapFeature(words.Say(Phrase.Of("maps.name_start", ("transect", transect.Name))), new MapPoint(start), OnLine("start", transect, ["gps_accuracy_m"]));
        if (transect.End is { } end) yield return new MapFeature(words.Say(Phrase.Of("maps.name_end", ("transect", transect.Name))), new MapPoint(end), OnLine("end", transect, []));
    }

    private static IEnumerable<MapFeature> Station(Nest nest, Catalogue words)
    {
        if (nest.Flag is { } flag) yield return Point("flag", "maps.name_flag", flag);
        if (nest.At is { } at) yield return Point("nest", "maps.name_nest", at);

        MapFeature Point(string kind, string name, Position place) => new(words.Say(Phrase.Of(name, ("transect", nest.Transect.Name), ("nest", nest.Number))), new MapPoint(place),
            [.. OnLine(kind, nest.Transect, []), new MapField("nest", nest.Number.ToString(CultureInfo.InvariantCulture)), .. Written(nest.Source, kind == "flag" ? [.. OfNest.Take(2), .. OfWay] : OfNest)]);
    }

    private static ImmutableArray<MapField> OnLine(string kind, Transect transect, ImmutableArray<string> columns) =>
        [.. Fields(kind, transect.Pasture, transect.Pasture.Source, []), new MapField("transect", transect.Name), .. Written(transect.Source, columns)];

    private static ImmutableArray<MapField> Fields(string kind, Pasture pasture, Source source, ImmutableArray<string> columns) =>
        [new MapField(MapFeature.Kind, kind), new MapField("property", pasture.Property), new MapField("pasture", pasture.Name), .. Written(source, columns)];

    private static IEnumerable<MapField> Written(Source source, ImmutableArray<string> columns) =>
        columns.Select(c => new MapField(c, source.Text(c))).Where(f => f.Text.Length > 0);
}
