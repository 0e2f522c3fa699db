using System.Collections.Immutable;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Places;
using Tussock.Land;
using Tussock.Records;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Maps;

/// <summary>Places from elsewhere find their rows by name, and nothing else is touched.</summary>
public class PlacesTakenTests
{
    private static readonly Position Here = new(31.25, -99.5);

    [Theory]
    [InlineData("T2-5", "flag_lat")]
    [InlineData("t2 5", "flag_lat")]
    [InlineData("T02-05", "flag_lat")]
    [InlineData("T2_005", "flag_lat")]
    [InlineData("T2 flag 5", "flag_lat")]
    [InlineData("Flag T2-5", "flag_lat")]
    [InlineData("T2/5 FLAG", "flag_lat")]
    [InlineData("transect T2 nest 5", "nest_lat")]
    [InlineData("T2 nest 5", "nest_lat")]
    [InlineData("nest T2-5", "nest_lat")]
    public void A_waypoint_is_recognised_by_its_name(string name, string column)
    {
        var taken = Take(Point(name, Here));
        Assert.True(Assert.Single(taken.Lines).IsTaken);
        Assert.Equal("31.25", Row(taken, RecordKind.Nests, 1).Text(column));
        Assert.Equal("-99.5", Row(taken, RecordKind.Nests, 1).Text(column.Replace("lat", "lon", StringComparison.Ordinal)));
        Assert.Equal("", Row(taken, RecordKind.Nests, 0).Text(column));
        Assert.Equal(0, taken.Replaced);
    }

    [Theory]
    [InlineData("T2 start", "start_lat")]
    [InlineData("START T2", "start_lat")]
    [InlineData("T2", "start_lat")]
    [InlineData("T2 end", "end_lat")]
    public void A_line_has_a_start_and_an_end(string name, string column) => Assert.Equal("31.25", Row(Take(Point(name, Here)), RecordKind.Transects, 0).Text(column));

    [Theory]
    [InlineData("Water tank")]
    [InlineData("T2 nest 7")]
    [InlineData("T25")]
    [InlineData("T3-1")]
    [InlineData("")]
    public void What_the_season_does_not_know_is_left_and_told(string name)
    {
        var taken = Take(Point(name, Here));
        Assert.False(Assert.Single(taken.Lines).IsTaken);
        Assert.NotEmpty(Catalogue.English.Say(taken.Lines[0].What));
        Assert.Equal(SameTablesText(Season()), SameTablesText(taken.Tables));
    }

    [Fact]
    public void A_name_of_two_things_is_left_and_told()
    {
        var taken = Take(Point("T2 1 5", Here));
        Assert.Equal("maps.left_several", Assert.Single(taken.Lines).What.Key);
    }

    [Fact]
    public void Values_speak_louder_than_names() =>
        Assert.Equal("31.25", Row(Take(Point("17", Here) with { Fields = [new("kind", "nest"), new("TRANSECT", "T2"), new("nest", "5")] }), RecordKind.Nests, 1).Text("nest_lat"));

    [Fact]
    public void Another_place_for_what_has_one_counts_as_replacing_and_says_how_far()
    {
        var first = Take(Point("T2-5", Here)).Tables;
        var again = PlacesTaken.Of(first, [Point("T2-5", Here)], false);
        Assert.Equal(0, again.Replaced);
        Assert.Equal(SameTablesText(first), SameTablesText(again.Tables));
        var moved = PlacesTaken.Of(first, [Point("T2-5", Here with { Latitude = 31.2501 })], false);
        Assert.Equal(1, moved.Replaced);
        Assert.Contains("moved by 11 m", Catalogue.English.Say(moved.Lines[0].What), StringComparison.Ordinal);
    }

    [Fact]
    public void Two_places_for_one_thing_stop()
    {
        var taken = Take(Point("T2-5", Here), Point("T2 flag 5", Here with { Latitude = 31.3 }));
        Assert.Equal("maps.twice", Assert.Single(taken.Problems).What.Key);
    }

    [Fact]
    public void A_file_of_coarsened_places_stops() =>
        Assert.Equal("maps.coarse_refused", Assert.Single(Take(Point("T2-5", Here) with { Fields = [new("coarsened", "yes")] }).Problems).What.Key);

    [Fact]
    public void A_line_gives_start_end_and_bearing_where_the_file_has_no_points_of_it()
    {
        var line = new MapFeature("T2", new MapLine([Here, new(31.26, -99.5)]), []);
        var row = Row(Take(line), RecordKind.Transects, 0);
        Assert.Equal(("31.25", "31.26", "0.0"), (row.Text("start_lat"), row.Text("end_lat"), row.Text("bearing_true_deg")));
        Assert.Equal("", Row(Take(line, Point("T2-5", Here)), RecordKind.Transects, 0).Text("start_lat"));
    }

    [Fact]
    public void A_boundary_is_put_in_and_what_else_stands_there_stays()
    {
        var area = new MapArea([new MapPolygon([new(31, -100), new(31, -99), new(32, -99), new(31, -100)], [])]);
        var taken = Take(new MapFeature("South pasture", area, []));
        Assert.Equal(area, BoundaryText.Read(taken.Tables.Texts[BoundaryText.File])[("Two Windmills", "South")]);
        var other = """{"type":"FeatureCollection","owner":"crew 1","features":[{"type":"Feature","id":7,"properties":{"property":"Two Windmills","pasture":"South","colour":"red"},"geometry":null},{"type":"Feature","properties":{"zone":"road"},"geometry":{"type":"Point","coordinates":[1,2]}}]}""";
        var text = BoundaryText.With(other, new Dictionary<(string, string), MapArea> { [("Two Windmills", "South")] = area })!;
        Assert.Contains("\"owner\":\"crew 1\"", text, StringComparison.Ordinal);
        Assert.Contains("\"colour\":\"red\"", text, StringComparison.Ordinal);
        Assert.Contains("""{"type":"Feature","properties":{"zone":"road"},"geometry":{"type":"Point","coordinates":[1,2]}}""", text, StringComparison.Ordinal);
        Assert.Equal(area, BoundaryText.Read(text)[("Two Windmills", "South")]);
    }

    [Fact]
    public void Two_areas_of_one_pasture_are_its_pieces()
    {
        MapPolygon Piece(double west) => new([new(31, west), new(31, west + 1), new(32, west + 1), new(31, west)], []);
        var taken = Take(new MapFeature("South", new MapArea([Piece(-100)]), []), new MapFeature("south", new MapArea([Piece(-90)]), []));
        Assert.Equal(2, BoundaryText.Read(taken.Tables.Texts[BoundaryText.File])[("Two Windmills", "South")].Pieces.Length);
    }

    [Fact]
    public void A_receivers_file_says_where_a_nests_place_comes_from()
    {
        Assert.Equal("gps", Row(PlacesTaken.Of(Season(), [Point("T2 nest 5", Here)], isGps: true), RecordKind.Nests, 1).Text("position_source"));
        Assert.Equal("", Row(PlacesTaken.Of(Season(), [Point("T2 nest 5", Here)], isGps: false), RecordKind.Nests, 1).Text("position_source"));
    }

    private static PlacesTaken Take(params ImmutableArray<MapFeature> features) => PlacesTaken.Of(Season(), features, false);

    private static MapFeature Point(string name, Position at) => new(name, new MapPoint(at), []) { From = new Place("test.gpx", 1) };

    private static Source Row(PlacesTaken taken, RecordKind kind, int row) => new(taken.Tables.Table(kind)!, taken.Tables.Table(kind)!.Rows[row]);

    private static string SameTablesText(SeasonTables tables) => Exchange.SameTables.Shown(tables);

    private static SeasonTables Season() => new(SeasonPackage.Parse("""{"season":{"name":"made"}}"""),
    [
        Table(RecordKind.Pastures, "property,pasture", "Two Windmills,South"),
        Table(RecordKind.Transects, "property,pasture,transect,set_on", "Two Windmills,South,T2,", "Two Windmills,South,T2 1,"),
        Table(RecordKind.Nests, "transect,nest,cover,id", "T2,1,grass,", "T2,5,grass,", "T2 1,5,grass,", "T2,15,grass,", "T2 1-5,1,grass,", "T2 1,51,grass,", "T2-1,5,shrub,"),
    ], ImmutableSortedDictionary<string, string>.Empty);

    private static RecordTable Table(RecordKind kind, string header, params string[] rows) =>
        new(kind, [.. header.Split(',')], [.. rows.Select((r, i) => new RecordRow(i + 2, [.. r.Split(',')]))]);
}
