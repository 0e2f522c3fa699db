using System.Buffers;
using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using System.Text.Encodings.Web;
using System.Text.Json;
using Tussock.Cover;
using Tussock.Fates;
using Tussock.Land;
using Tussock.Pictures;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Results;
using Tussock.Wayfinding;

namespace Tussock.Desk;

/// <summary>What the map of the desk draws, as JSON: boundaries, lines with their segments, nests with what became of them, cameras. Exact places.</summary>
/// <remarks>Degrees of WGS 84, latitude first, to the seventh decimal. What became of a nest is that of the last answer; before there is one it is not known.</remarks>
public static class MapText
{
    /// <summary>Mark of a nest that is planned and not set; the marks below it are those of <see cref="NestMark"/>.</summary>
    public const int Planned = 4;

    /// <summary>Sides of a search area longer than this are no help on a map, metres.</summary>
    private const double WidestM = 500;

    /// <summary>Nests of each line by what became of them, counted once for an answer.</summary>
    private static readonly ConditionalWeakTable<Season, LinesCounted> Counted = [];
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.Default };

    /// <summary>The map of the season; empty lists while the season can't be read.</summary>
    public static byte[] Of(DeskAnswer answer) => Written(w =>
    {
        var season = answer.Season;
        WriteAreas(w, season);
        var lines = season?.Transects ?? [];
        var stations = (season?.Nests ?? []).ToLookup(n => n.Transect);
        var counted = CountedSegments(answer);
        w.WriteStartArray("lines");
        foreach (var transect in lines) WriteLine(w, transect, [.. stations[transect].OrderBy(n => n.Number)], answer, counted[transect.Name]);
        w.WriteEndArray();
        WriteNests(w, answer);
    });

    /// <summary>The search areas of one transect: corners of each box that holds its nest in 95 of 100 returns. A nest without a place of its own has none.</summary>
    /// <param name="answer">What the desk knows.</param>
    /// <param name="transect">Name of the transect.</param>
    public static byte[] SearchAreas(DeskAnswer answer, string transect) => Written(w =>
    {
        w.WriteStartArray("areas");
        if (answer.Season is { } season)
        {
            var ways = new SeasonWays(season);
            foreach (var nest in season.Nests.Where(n => n.Transect.Name == transect))
            {
                foreach (var place in ways.Of(nest).Places.Where(p => p.At is not null && Math.Max(p.Area.LeftRightM, p.Area.AheadBackM) < WidestM))
                {
                    w.WriteStartObject();
                    w.WriteString("nest", nest.Source.Text("id"));
                    WritePlaces(w, "corners", Corners(place));
                    w.WriteEndObject();
                }
            }
        }

        w.WriteEndArray();
    });

    /// <summary>Transects with what became of their nests, in the season's order: one row of the table beside the map.</summary>
    public static ImmutableArray<(Transect Transect, ImmutableArray<int> Marks)> Rows(DeskAnswer answer)
    {
        if (answer.Season is not { } season) return [];
        var known = Counted.GetValue(season, _ => new LinesCounted());
        if (known.Last is not { } last || !ReferenceEquals(last.Item1, answer.Results)) known.Last = last = Tuple.Create(answer.Results, Counts(season, answer));
        return last.Item2;
    }

    private static ImmutableArray<(Transect Transect, ImmutableArray<int> Marks)> Counts(Season season, DeskAnswer answer)
    {
        var marks = Marks(answer);
        var counts = season.Transects.ToDictionary(t => t, _ => new int[Planned + 1]);
        foreach (var nest in season.Nests) counts[nest.Transect][MarkOf(nest, marks)]++;
        return [.. season.Transects.Select(t => (t, counts[t].ToImmutableArray()))];
    }

    private static byte[] Written(Action<Utf8JsonWriter> write)
    {
        var bytes = new ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(bytes, Options))
        {
            writer.WriteStartObject();
            write(writer);
            writer.WriteEndObject();
        }

        return bytes.WrittenSpan.ToArray();
    }

    private static void WriteAreas(Utf8JsonWriter w, Season? season)
    {
        w.WriteStartArray("areas");
        var boundaries = season is not null && SeasonBoundaries.Of(season.Tables) is { HasValue: true } read ? read.Value : null;
        foreach (var pasture in season?.Pastures ?? [])
        {
            if (boundaries is null || !boundaries.TryGetValue((pasture.Property, pasture.Name), out var boundary)) continue;
            w.WriteStartObject();
            w.WriteString("property", pasture.Property);
            w.WriteString("pasture", pasture.Name);
            w.WriteString("id", pasture.Source.Text("id"));
            w.WriteStartArray("rings");
            foreach (var ring in boundary.Rings) WriteRing(w, ring);
            w.WriteEndArray();
            w.WriteEndObject();
        }

        w.WriteEndArray();
    }

    private static void WriteLine(Utf8JsonWriter w, Transect transect, ImmutableArray<Nest> stations, DeskAnswer answer, IEnumerable<SegmentDensity> counted)
    {
        var flags = new List<Position>();
        foreach (var at in stations.Select(n => n.Flag).Prepend(transect.Start).Append(transect.End)) if (at is { } place && (flags.Count == 0 || flags[^1] != place)) flags.Add(place);
        w.WriteStartObject();
        w.WriteString("name", transect.Name);
        w.WriteString("property", transect.Pasture.Property);
        w.WriteString("pasture", transect.Pasture.Name);
        WritePlaces(w, "points", flags);
        w.WriteStartArray("segments");
        foreach (var (from, to, perAcre) in Segments(transect, stations, counted))
        {
            w.WriteStartObject();
            WritePlaces(w, "points", [from, to]);
            if (perAcre is { } density) w.WriteNumber("per_acre", Math.Round(density, 1));
            else w.WriteNull("per_acre");
            w.WriteNumber("tint", perAcre is { } d ? SegmentStrip.TintOf(d, answer.Season!.Settings.ClumpsPerAcreBenchmark) : -1);
            w.WriteEndObject();
        }

        w.WriteEndArray();
        w.WriteEndObject();
    }

    /// <summary>Segments of the last answer by the name of their line.</summary>
    private static ILookup<string, SegmentDensity> CountedSegments(DeskAnswer answer) => (answer.Numbers?.Segments ?? []).ToLookup(s => answer.Numbers!.Results.Season.Transects[s.Transect].Name, StringComparer.Ordinal);

    /// <summary>Segment k lies between flags k − 1 and k; the start of the line is flag 0. A segment without both flags has no place.</summary>
    private static IEnumerable<(Position From, Position To, double? PerAcre)> Segments(Transect transect, ImmutableArray<Nest> stations, IEnumerable<SegmentDensity> counted)
    {
        var flags = stations.Where(n => n.Flag is not null).GroupBy(n => n.Number).ToDictionary(g => g.Key, g => g.First().Flag!.Value);
        if (transect.Start is { } start) flags[0] = start;
        foreach (var segment in counted)
        {
            if (flags.TryGetValue(segment.Segment - 1, out var from) && flags.TryGetValue(segment.Segment, out var to)) yield return (from, to, segment.PerAcre);
        }
    }

    private static void WriteNests(Utf8JsonWriter w, DeskAnswer answer)
    {
        var season = answer.Season;
        var covers = (season?.Nests ?? []).Select(n => n.Cover).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).Select((name, i) => (name, i)).ToDictionary(c => c.name, c => c.i, StringComparer.Ordinal);
        var lines = (season?.Transects ?? []).Select((t, i) => (t, i)).ToDictionary(t => t.t, t => t.i);
        var watched = (season?.Deployments ?? []).Select(d => d.Nest).ToHashSet();
        w.WriteStartArray("covers");
        foreach (var cover in covers.OrderBy(c => c.Value)) w.WriteStringValue(cover.Key.Replace('_', ' '));
        w.WriteEndArray();
        w.WriteStartArray("nests");
        var marks = Marks(answer);
        foreach (var nest in season?.Nests ?? [])
        {
            w.WriteStartObject();
            w.WriteString("id", nest.Source.Text("id"));
            w.WriteNumber("line", lines[nest.Transect]);
            w.WriteNumber("number", nest.Number);
            w.WriteNumber("cover", covers[nest.Cover]);
            w.WriteNumber("mark", MarkOf(nest, marks));
            if (watched.Contains(nest)) w.WriteBoolean("camera", true);
            if (nest.Flag is { } flag) WritePlace(w, "flag", flag);
            if ((nest.At ?? nest.Flag) is { } at) WritePlace(w, "at", at);
            w.WriteEndObject();
        }

        w.WriteEndArray();
    }

    private static Dictionary<string, NestMark> Marks(DeskAnswer answer)
    {
        var marks = new Dictionary<string, NestMark>(StringComparer.Ordinal);
        foreach (var fate in answer.Results?.Fates.Nests ?? []) marks[fate.Nest.Source.Text("id")] = NestMarks.Of(fate);
        return marks;
    }

    private static int MarkOf(Nest nest, Dictionary<string, NestMark> marks) =>
        !nest.IsSet ? Planned : (int)(marks.TryGetValue(nest.Source.Text("id"), out var mark) ? mark : NestMark.NotKnown);

    /// <summary>The box as whoever comes from the flag sees it: left and right, ahead and back of its middle.</summary>
    private static IEnumerable<Position> Corners(WayPlace place)
    {
        var facing = place.Area.Centre.BearingTrueDeg;
        var plane = new LocalPlane(place.At!.Value);
        foreach (var (ahead, right) in ((int, int)[])[(1, -1), (1, 1), (-1, 1), (-1, -1)])
        {
            var corner = Offset.Along(facing, ahead * place.Area.AheadBackM) + Offset.Along(facing + 90, right * place.Area.LeftRightM);
            yield return plane.Place(corner.EastM, corner.NorthM);
        }
    }

    private static void WriteRing(Utf8JsonWriter w, IEnumerable<Position> ring)
    {
        w.WriteStartArray();
        foreach (var corner in ring) WritePair(w, corner);
        w.WriteEndArray();
    }

    private static void WritePlaces(Utf8JsonWriter w, string name, IEnumerable<Position> places)
    {
        w.WritePropertyName(name);
        WriteRing(w, places);
    }

    private static void WritePlace(Utf8JsonWriter w, string name, Position at)
    {
        w.WritePropertyName(name);
        WritePair(w, at);
    }

    private static void WritePair(Utf8JsonWriter w, Position at)
    {
        w.WriteStartArray();
        w.WriteNumberValue(Math.Round(at.Latitude, 7));
        w.WriteNumberValue(Math.Round(at.Longitude, 7));
        w.WriteEndArray();
    }

    /// <summary>The counts of a season's lines with the results that they stand at.</summary>
    private sealed class LinesCounted
    {
        internal Tuple<SeasonResults?, ImmutableArray<(Transect Transect, ImmutableArray<int> Marks)>>? Last { get; set; }
    }
}
