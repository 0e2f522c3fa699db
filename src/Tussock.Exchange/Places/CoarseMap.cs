using System.Collections.Immutable;
using System.Globalization;
using Tussock.Exchange.GeoJson;
using Tussock.Land;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Exchange.Places;

/// <summary>The places of a season blurred so that a map of them may be handed on: pastures as the cells of a public grid that cover them, a line and its nests at the middle of one cell, numbers instead of names.</summary>
/// <remarks>Everything on a line stands in the cell of the line's first known place, so that nests to either side of a cell's edge give nothing away. See <see cref="CoarseGrid"/>.</remarks>
public static class CoarseMap
{
    /// <summary>The map.</summary>
    public static MapDocument Of(Season season, Catalogue words)
    {
        var properties = season.Pastures.Select(p => p.Property).Distinct().ToArray();
        var areas = season.Tables.Texts.TryGetValue(BoundaryText.File, out var text) ? BoundaryText.Read(text) : [];
        var pastures = season.Pastures.Where(p => areas.ContainsKey((p.Property, p.Name))).Select(p =>
            new MapFeature(words.Say(Phrase.Of("maps.name_pasture", ("property", Property(p)), ("pasture", Pasture(p)))), Cells(areas[(p.Property, p.Name)]), Fields("pasture", p)));
        var points = season.Nests.GroupBy(n => n.Transect).ToDictionary(g => g.Key, g => g.OrderBy(n => n.Number).ToArray());
        var lines = season.Transects.SelectMany((t, i) => Line(t, i + 1, points.GetValueOrDefault(t, [])));
        return new MapDocument(words.Say(Phrase.Of("maps.coarse_name", ("year", season.Settings.Year))), words.Say("maps.coarse"), [.. pastures, .. lines]);

        int Property(Pasture p) => Array.IndexOf(properties, p.Property) + 1;

        int Pasture(Pasture p) => season.Pastures.Where(q => q.Property == p.Property).TakeWhile(q => q != p).Count() + 1;

        ImmutableArray<MapField> Fields(string kind, Pasture p) =>
            [new MapField(MapFeature.Kind, kind), new MapField("property", Property(p).ToString(CultureInfo.InvariantCulture)), new MapField("pasture", Pasture(p).ToString(CultureInfo.InvariantCulture)), new MapField(MapFeature.Coarsened, "yes")];

        IEnumerable<MapFeature> Line(Transect transect, int number, Nest[] nests)
        {
            if ((transect.Start ?? nests.Select(n => n.Flag ?? n.At).FirstOrDefault(p => p is not null)) is not { } first) yield break;
            var cell = new MapPoint(CoarseGrid.Middle(first));
            var named = new MapField("transect", number.ToString(CultureInfo.InvariantCulture));
            yield return new MapFeature(words.Say(Phrase.Of("maps.name_line", ("transect", number))), cell, [.. Fields("transect", transect.Pasture), named, .. SetOn(transect.SetOn)]);
            foreach (var nest in nests.Where(n => (n.Flag ?? n.At) is not null))
            {
                yield return new MapFeature(words.Say(Phrase.Of("maps.name_line_nest", ("transect", number), ("nest", nest.Number))), cell,
                    [.. Fields("nest", transect.Pasture), named, new MapField("nest", nest.Number.ToString(CultureInfo.InvariantCulture)), .. nest.Cover.Length > 0 ? [new MapField("cover", nest.Cover)] : Array.Empty<MapField>(), .. SetOn(nest.SetOn)]);
            }
        }
    }

    private static IEnumerable<MapField> SetOn(DateOnly? date) => date is { } on ? [new MapField("set_on", on.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture))] : [];

    /// <summary>The rectangle of cells that covers an area; one on either side of the date line.</summary>
    private static MapArea Cells(MapArea area)
    {
        var corners = area.Pieces.SelectMany(p => p.Outer).ToArray();
        var crosses = corners.Any(c => c.Longitude < -90) && corners.Any(c => c.Longitude > 90);
        var sides = corners.GroupBy(c => crosses && c.Longitude < 0);
        return new MapArea([.. sides.OrderBy(s => s.Key).Select(s => Cells(s.ToArray()))]);
    }

    private static MapPolygon Cells(Position[] corners)
    {
        var (low, high) = CoarseGrid.Cover(corners.Min(c => c.Latitude), corners.Min(c => c.Longitude), corners.Max(c => c.Latitude), corners.Max(c => c.Longitude));
        return new MapPolygon([low, low with { Longitude = high.Longitude }, high, high with { Longitude = low.Longitude }, low], []);
    }
}
