using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using Tussock.Exchange.Calendar;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Kml;
using Tussock.Exchange.Places;
using Tussock.Land;
using Xunit;

namespace Tussock.Edges.Tests.Maps;

/// <summary>Examples that the standards print, read and written.</summary>
public class PublishedExampleChecks
{
    public static TheoryData<string> Geometries => [.. Examples().Select(e => e.GetProperty("what").GetString()!)];

    [Theory]
    [MemberData(nameof(Geometries))]
    public void A_geometry_of_RFC_7946_is_read_and_written_as_printed(string what)
    {
        var geometry = Examples().Single(e => e.GetProperty("what").GetString() == what).GetProperty("geometry");
        var reading = GeoJsonReader.Read(Encoding.UTF8.GetBytes(geometry.GetRawText()), "example.geojson");
        Assert.Empty(reading.Problems);
        var parts = Parts(geometry).ToArray();
        Assert.Equal(parts.Length, reading.Features.Length);
        for (var i = 0; i < parts.Length; i++)
        {
            using var written = JsonDocument.Parse(GeoJsonWriter.Text(w =>
            {
                w.WriteStartObject();
                GeoJsonWriter.WriteGeometry(w, reading.Features[i].Shape);
                w.WriteEndObject();
            }));
            Assert.Equal(Numbers(parts[i]), Numbers(written.RootElement.GetProperty("geometry").GetProperty("coordinates")));
        }
    }

    [Fact]
    public void A_line_over_the_date_line_is_cut_as_RFC_7946_has_it()
    {
        using var json = JsonDocument.Parse(Checks.Read("rfc-7946", "antimeridian.json"));
        var cut = DateLine.Cut(Places(json.RootElement.GetProperty("line")));
        Assert.Equal(json.RootElement.GetProperty("line_cut").EnumerateArray().Select(l => string.Join(' ', Places(l))), cut.Select(l => string.Join(' ', l)));
    }

    [Fact]
    public void An_area_over_the_date_line_is_cut_as_RFC_7946_has_it()
    {
        using var json = JsonDocument.Parse(Checks.Read("rfc-7946", "antimeridian.json"));
        var cut = Rings.Polygon(Places(json.RootElement.GetProperty("ring")), []).ToArray();
        var expected = json.RootElement.GetProperty("ring_cut").EnumerateArray().Select(Places).ToArray();
        Assert.Equal(2, cut.Length);
        for (var i = 0; i < 2; i++)
        {
            // The same ring may begin at another corner.
            Assert.Equal(expected[i].Distinct().OrderBy(p => p.Longitude).ThenBy(p => p.Latitude), cut[i].Outer.Distinct().OrderBy(p => p.Longitude).ThenBy(p => p.Latitude));
            Assert.Equal(Rings.Turn(expected[i]), Rings.Turn(cut[i].Outer), 9);
        }
    }

    [Fact]
    public void The_examples_of_KML_are_read_longitude_first_with_the_hole()
    {
        using var stream = File.OpenRead(Path.Combine(Checks.Folder("kml-2.2"), "examples.kml"));
        var reading = KmlReader.Read(stream, "examples.kml");
        Assert.Empty(reading.Problems);
        Assert.Equal(["unextruded", "hollow box"], reading.Features.Select(f => f.Name));
        Assert.Equal(new MapLine([new(37.824664, -122.364383), new(37.824322, -122.364152)]), reading.Features[0].Shape);
        var piece = Assert.Single(Assert.IsType<MapArea>(reading.Features[1].Shape).Pieces);
        Assert.Equal(6, piece.Outer.Length);
        Assert.Contains(new Position(38.868757801256, -77.05552622493516), piece.Outer);
        Assert.Contains(new Position(38.87154239798456, -77.05668055019126), Assert.Single(piece.Holes));
    }

    [Fact]
    public void A_text_is_escaped_as_RFC_5545_has_it()
    {
        using var json = JsonDocument.Parse(Checks.Read("rfc-5545", "examples.json"));
        Assert.Equal(json.RootElement.GetProperty("escaped").GetString(), CalendarText.Escaped(json.RootElement.GetProperty("text").GetString()!));
        Assert.Equal(@"one\, two\; three \\ four", CalendarText.Escaped(@"one, two; three \ four"));
    }

    [Fact]
    public void A_line_of_75_octets_is_left_alone_and_a_longer_one_folds_between_letters()
    {
        var text = new CalendarText();
        text.Line("DESCRIPTION", new string('a', 63));
        Assert.Equal("DESCRIPTION:" + new string('a', 63) + "\r\n", text.ToString());
        text = new CalendarText();
        text.Line("DESCRIPTION", string.Concat(Enumerable.Repeat("é🦝", 60)));
        var lines = text.ToString().Split("\r\n")[..^1];
        Assert.All(lines, l => Assert.InRange(Encoding.UTF8.GetByteCount(l), 1, 75));
        Assert.All(lines.Skip(1), l => Assert.StartsWith(" ", l, StringComparison.Ordinal));
        Assert.Equal("DESCRIPTION:" + string.Concat(Enumerable.Repeat("é🦝", 60)), text.ToString().Replace("\r\n ", "", StringComparison.Ordinal).TrimEnd());
    }

    private static JsonElement[] Examples()
    {
        using var json = JsonDocument.Parse(Checks.Read("rfc-7946", "examples.json"));
        return [.. json.RootElement.Clone().EnumerateArray()];
    }

    /// <summary>Coordinates of each thing that a geometry becomes: points and lines of a multitude stand alone.</summary>
    private static IEnumerable<JsonElement> Parts(JsonElement geometry) => geometry.GetProperty("type").GetString() switch
    {
        "GeometryCollection" => geometry.GetProperty("geometries").EnumerateArray().SelectMany(Parts),
        "MultiPoint" or "MultiLineString" => geometry.GetProperty("coordinates").EnumerateArray(),
        _ => [geometry.GetProperty("coordinates")],
    };

    private static string Numbers(JsonElement coordinates) => coordinates.ValueKind == JsonValueKind.Array
        ? "[" + string.Join(',', coordinates.EnumerateArray().Select(Numbers)) + "]"
        : coordinates.GetDouble().ToString("R", System.Globalization.CultureInfo.InvariantCulture);

    private static ImmutableArray<Position> Places(JsonElement list) => [.. list.EnumerateArray().Select(p => new Position(p[1].GetDouble(), p[0].GetDouble()))];
}
