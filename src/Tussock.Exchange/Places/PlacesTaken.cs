using System.Collections.Immutable;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Reading;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Exchange.Places;

/// <summary>What became of one thing of a file.</summary>
/// <param name="From">Where it stands.</param>
/// <param name="What">The sentence.</param>
/// <param name="IsTaken">Whether it is part of the season.</param>
/// <param name="IsChange">Whether the season has another place by it, or a first one.</param>
public sealed record PlaceLine(Place From, Phrase What, bool IsTaken, bool IsChange);

/// <summary>A season with places from a file: things are recognised by their values or their names; nothing is added that the season does not know.</summary>
public sealed record PlacesTaken
{
    /// <summary>The season's tables with the places.</summary>
    public required SeasonTables Tables { get; init; }

    /// <summary>What became of each thing, in the order of the file.</summary>
    public required ImmutableArray<PlaceLine> Lines { get; init; }

    /// <summary>What stops it.</summary>
    public required ImmutableArray<Problem> Problems { get; init; }

    /// <summary>Whether the tables differ from those before.</summary>
    public required bool IsChanged { get; init; }

    /// <summary>How many places that the season had already become others.</summary>
    public required int Replaced { get; init; }

    /// <summary>Puts the places of a file into a season.</summary>
    /// <param name="tables">The season.</param>
    /// <param name="features">The things of the file.</param>
    /// <param name="isGps">Whether a place without a word about its source was taken by a satellite receiver, as in GPX.</param>
    public static PlacesTaken Of(SeasonTables tables, ImmutableArray<MapFeature> features, bool isGps) => new Taking(tables, isGps).Take(features);

    /// <summary>One file being taken.</summary>
    private sealed class Taking(SeasonTables tables, bool isGps)
    {
        private const double SameM = 0.005;
        private readonly StationNames names = new(tables);
        private readonly Dictionary<RecordKind, TableEdit> edits = tables.Tables.ToDictionary(t => t.Kind, t => new TableEdit(t));
        private readonly Dictionary<(string, string), MapArea> boundaries = tables.Texts.TryGetValue(BoundaryText.File, out var text) ? BoundaryText.Read(text) : [];
        private readonly Dictionary<(string, string), MapArea> areas = [];
        private readonly Dictionary<Meant, MapFeature> given = [];
        private readonly HashSet<string> withPoints = new(StringComparer.Ordinal);
        private readonly List<(int Order, PlaceLine Line)> lines = [];
        private readonly List<Problem> problems = [];
        private int replaced;

        internal PlacesTaken Take(ImmutableArray<MapFeature> features)
        {
            foreach (var coarse in features.Where(f => f.Field(MapFeature.Coarsened) == "yes").Take(1)) Stop(coarse, Phrase.Of("maps.coarse_refused"), Phrase.Of("maps.coarse_refused_todo"));
            if (problems.Count == 0)
            {
                // A line counts only where the file has no points of it, so points come first; one that we drew through its points never does.
                for (var i = 0; i < features.Length; i++) if (features[i].Shape is not MapLine) TakeOne(features[i], i);
                for (var i = 0; i < features.Length; i++) if (features[i].Shape is MapLine) TakeOne(features[i], i);
            }

            return new PlacesTaken { Tables = Made(), Lines = [.. lines.OrderBy(l => l.Order).Select(l => l.Line)], IsChanged = areas.Count > 0 || edits.Values.Any(e => e.IsChanged), Problems = [.. problems], Replaced = replaced };
        }

        private SeasonTables Made()
        {
            var made = tables with { Tables = [.. tables.Tables.Select(t => edits[t.Kind].Made())] };
            if (areas.Count == 0) return made;
            if (BoundaryText.With(tables.Texts.GetValueOrDefault(BoundaryText.File), areas) is { } text) return made with { Texts = made.Texts.SetItem(BoundaryText.File, text) };
            problems.Add(new Problem("places", Severity.Stop, new Place(BoundaryText.File), Phrase.Of("maps.no_geojson"), Phrase.Of("maps.no_geojson_todo")));
            return tables;
        }

        private void TakeOne(MapFeature feature, int order)
        {
            var meant = names.Of(feature);
            if (meant.Count == 1) Take(feature, meant.First(), order);
            else Leave(feature, order, Phrase.Of(meant.Count > 1 ? "maps.left_several" : feature.Name.Length == 0 ? "maps.left_nameless" : "maps.left_unknown", ("name", Shown(feature))));
        }

        private void Take(MapFeature feature, Meant meant, int order)
        {
            if (meant.Target == Target.Pasture) TakeArea(feature, (MapArea)feature.Shape, meant, order);
            else if (given.TryGetValue(meant, out var other)) Again(feature, other, order);
            else if (feature.Shape is MapPoint point) TakePoint(feature, point.At, meant, order);
            else if (feature.Shape is MapLine line) TakeLine(feature, line.Points, meant, order);
        }

        /// <summary>Several areas of one pasture are its pieces.</summary>
        private void TakeArea(MapFeature feature, MapArea area, Meant meant, int order)
        {
            var key = (Text(RecordKind.Pastures, meant.Row, "property"), Text(RecordKind.Pastures, meant.Row, "pasture"));
            var isFirst = given.TryAdd(meant, feature);
            var former = boundaries.GetValueOrDefault(key);
            var whole = areas.TryGetValue(key, out var before) ? new MapArea([.. before.Pieces, .. area.Pieces]) : area;
            var isSame = whole.Equals(former);
            if (isSame) areas.Remove(key);
            else areas[key] = whole;
            if (isFirst && former is not null && !isSame) replaced++;
            if (!isFirst && isSame) replaced--;
            Tell(feature, order, Phrase.Of("maps.what_pasture", ("property", key.Item1), ("pasture", key.Item2)), isSame ? Phrase.Of("maps.as_it_was") : Phrase.Of(former is null ? "maps.new" : "maps.other_boundary"), !isSame);
        }

        private void TakePoint(MapFeature feature, Position at, Meant meant, int order)
        {
            given.Add(meant, feature);
            var kind = meant.Target is Target.Flag or Target.Nest ? RecordKind.Nests : RecordKind.Transects;
            var (prefix, what) = meant.Target switch { Target.Start => ("start", "maps.what_start"), Target.End => ("end", "maps.what_end"), Target.Flag => ("flag", "maps.what_flag"), _ => ("nest", "maps.what_nest") };
            var transect = Text(kind, meant.Row, "transect");
            withPoints.Add(transect);
            var change = Put(kind, meant.Row, prefix, at);
            if (meant.Target == Target.Nest) TakeSource(feature, meant.Row, change is not null);
            Tell(feature, order, Phrase.Of(what, ("transect", transect), ("nest", Text(kind, meant.Row, "nest"))), change ?? Phrase.Of("maps.as_it_was"), change is not null);
        }

        /// <summary>A nest's place has a source: the file's word, else that of the receiver whose file it is.</summary>
        private void TakeSource(MapFeature feature, int row, bool isChange)
        {
            var source = Cell.Token(feature.Field("position_source"));
            var isOpen = isChange || Text(RecordKind.Nests, row, "position_source").Length == 0;
            if (isOpen && RecordKind.Nests.ColumnNamed("position_source")!.Tokens.Contains(source)) edits[RecordKind.Nests].Set(row, "position_source", source);
            else if (isGps && isChange) edits[RecordKind.Nests].Set(row, "position_source", "gps");
            if (isChange && Cell.Number(feature.Field("gps_accuracy_m")) is >= 0) edits[RecordKind.Nests].Set(row, "gps_accuracy_m", feature.Field("gps_accuracy_m"));
        }

        private void TakeLine(MapFeature feature, ImmutableArray<Position> points, Meant meant, int order)
        {
            var transect = Text(RecordKind.Transects, meant.Row, "transect");
            var what = Phrase.Of("maps.what_line", ("transect", transect));
            given.Add(meant, feature);
            if (withPoints.Contains(transect) || feature.Field(MapFeature.Kind) == SeasonMap.Transect)
            {
                Tell(feature, order, what, Phrase.Of("maps.by_points"), false);
                return;
            }

            var start = Put(RecordKind.Transects, meant.Row, "start", points[0]);
            var end = Put(RecordKind.Transects, meant.Row, "end", points[^1]);
            if (Text(RecordKind.Transects, meant.Row, "bearing_true_deg").Length == 0) edits[RecordKind.Transects].Set(meant.Row, "bearing_true_deg", Words.Numbers.Fixed(Offset.Between(points[0], points[^1]).BearingTrueDeg, 1));
            Tell(feature, order, what, start ?? end ?? Phrase.Of("maps.as_it_was"), start is not null || end is not null);
        }

        /// <summary>Writes a place where it differs from the one written; what changed, or null.</summary>
        private Phrase? Put(RecordKind kind, int row, string prefix, Position at)
        {
            var former = Cell.Number(Text(kind, row, prefix + "_lat")) is { } north && Cell.Number(Text(kind, row, prefix + "_lon")) is { } east ? new Position(north, east) : (Position?)null;
            var moved = former is { } old ? Offset.Between(old, at).DistanceM : double.NaN;
            if (moved < SameM) return null;
            if (former is not null) replaced++;
            edits[kind].Set(row, prefix + "_lat", StrangerXml.Degrees(at.Latitude));
            edits[kind].Set(row, prefix + "_lon", StrangerXml.Degrees(at.Longitude));
            return former is null ? Phrase.Of("maps.new") : Phrase.Of("maps.moved", ("metres", moved));
        }

        private void Again(MapFeature feature, MapFeature other, int order)
        {
            if (feature.Shape.Equals(other.Shape)) Tell(feature, order, Phrase.Of("maps.what_again", ("other", other.From.ToString())), Phrase.Of("maps.as_it_was"), false);
            else Stop(feature, Phrase.Of("maps.twice", ("name", Shown(feature)), ("other", other.From.ToString())), Phrase.Of("maps.twice_todo"));
        }

        private string Text(RecordKind kind, int row, string column) => edits[kind].Text(row, column);

        private void Tell(MapFeature feature, int order, Phrase what, Phrase change, bool isChange) =>
            lines.Add((order, new PlaceLine(feature.From, Phrase.Of("maps.taken", ("name", Shown(feature)), ("what", what), ("change", change)), true, isChange)));

        private void Leave(MapFeature feature, int order, Phrase why) => lines.Add((order, new PlaceLine(feature.From, why, false, false)));

        private void Stop(MapFeature feature, Phrase what, Phrase toDo) => problems.Add(new Problem("places", Severity.Stop, feature.From, what, toDo));

        private static string Shown(MapFeature feature) => TableCheck.Shown(feature.Name);
    }
}
