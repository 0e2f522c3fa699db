using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Land;
using Tussock.Pictures;
using Tussock.Records;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Landowner;

/// <summary>Pastures, lines and nests as pictures: a map with places, or a sketch without.</summary>
internal static class PropertyLand
{
    private const int MostNests = 3000;

    /// <summary>Lines of a group with their nests, in the season's order.</summary>
    internal static ImmutableArray<NestRow> Rows(IEnumerable<NestFate> fates, bool isHalfway = false) =>
    [
        .. fates.GroupBy(f => f.Nest.Transect).OrderBy(g => g.Key.Pasture.Name, StringComparer.Ordinal).ThenBy(g => g.Key.Name, NaturalOrder.Names)
            .Select(g => new NestRow(g.Key.Name, [.. g.OrderBy(f => f.Nest.Number).Select(f => NestMarks.Of(f, isHalfway))])),
    ];

    /// <summary>The map of some pastures.</summary>
    internal static string Map(SeasonResults results, ImmutableArray<Pasture> pastures, Catalogue words, (double Width, double Height) size, bool isHalfway = false) =>
        LandMap.Draw(Content(results, pastures, isHalfway), words, size.Width, size.Height);

    /// <summary>The sketch of some pastures.</summary>
    internal static string Sketch(SeasonResults results, ImmutableArray<Pasture> pastures, Catalogue words, double width, bool isHalfway = false) =>
        LandSketch.Draw([.. pastures.Select(p => new SketchPasture(p.Name, Rows(results.Fates.Rows.Where(f => f.Nest.Transect.Pasture == p), isHalfway))).Where(p => !p.Lines.IsEmpty)], words, width);

    private static MapContent Content(SeasonResults results, ImmutableArray<Pasture> pastures, bool isHalfway)
    {
        var season = results.Season;
        var content = new MapContent
        {
            Pastures = [.. Boundaries(season, pastures)],
            Lines = [.. season.Transects.Where(t => t is { Start: not null, End: not null } && pastures.Contains(t.Pasture)).Select(t => new MapLine(t.Name, t.Start!.Value, t.End!.Value))],
        };
        return IsCrowded(results, pastures) && !content.Pastures.IsEmpty ? content : content with { Nests = [.. Placed(results, pastures).Select(f => new MapNest((f.Nest.At ?? f.Nest.Flag)!.Value, NestMarks.Of(f, isHalfway)))] };
    }

    /// <summary>Whether there are more nests than a picture can tell apart; its map shows the land without them, where there is any to show.</summary>
    internal static bool IsCrowded(SeasonResults results, ImmutableArray<Pasture> pastures) => Placed(results, pastures).Skip(MostNests).Any();

    private static IEnumerable<NestFate> Placed(SeasonResults results, ImmutableArray<Pasture> pastures) => results.Fates.Rows.Where(f => pastures.Contains(f.Nest.Transect.Pasture) && (f.Nest.At ?? f.Nest.Flag) is not null);

    private static IEnumerable<MapArea> Boundaries(Season season, ImmutableArray<Pasture> pastures)
    {
        var read = SeasonBoundaries.Of(season.Tables);
        if (!read.HasValue) yield break;
        foreach (var pasture in pastures)
        {
            if (!read.Value.TryGetValue((pasture.Property, pasture.Name), out var boundary)) continue;
            for (var i = 0; i < boundary.Rings.Length; i++) yield return new MapArea(i == 0 ? pasture.Name : "", boundary.Rings[i]);
        }
    }
}
