using System.Text.Json;
using Tussock.Fieldwork;
using Xunit;

namespace Tussock.Tests.Fieldwork;

/// <summary>What the phone's bundle says about finding nests again.</summary>
public class FieldWaysTests
{
    [Fact]
    public void People_declination_ways_offers_and_second_searches_are_filled()
    {
        using var json = JsonDocument.Parse(Bundle());
        var bundle = json.RootElement;
        Assert.Equal("""[{"observer":"crew 1","walks":2,"step_m":0.78,"step_sd_m":0.0283,"assumed":false,"arm_span_m":1.8},{"observer":"crew 2","walks":0,"step_m":0.75,"step_sd_m":null,"assumed":true,"arm_span_m":null}]""", bundle.GetProperty("people").GetRawText());
        var declination = bundle.GetProperty("declination").EnumerateArray().Single();
        Assert.Equal(("T1", "2026-05-04"), (declination.GetProperty("transect").GetString(), declination.GetProperty("on").GetString()));
        Assert.InRange(declination.GetProperty("degrees_east").GetDouble(), 3.5, 5.5);
        Assert.InRange(declination.GetProperty("change_per_year").GetDouble(), -0.3, 0);
        Assert.Equal(JsonValueKind.Null, declination.GetProperty("why").ValueKind);

        var ways = bundle.GetProperty("ways").EnumerateArray().ToArray();
        Assert.Equal(["00000000-0000-4000-8000-000000000001", "00000000-0000-4000-8000-000000000002", "00000000-0000-4000-8000-000000000003"], ways.Select(w => w.GetProperty("nest").GetString()));
        Assert.StartsWith("17 steps NE of flag 1, or 17 steps SW of flag 1; then look", ways[0].GetProperty("words").GetProperty("en").GetString(), StringComparison.Ordinal);
        Assert.Equal("17 NE or 17 SW", ways[0].GetProperty("short").GetProperty("en").GetString());
        var places = ways[0].GetProperty("places").EnumerateArray().ToArray();
        Assert.Equal(["flag_to_nest", "nest_to_flag"], places.Select(p => p.GetProperty("sense").GetString()));
        Assert.All(places, p => Assert.Equal(13.26, p.GetProperty("distance_m").GetDouble()));
        Assert.Equal(180, places[1].GetProperty("bearing_true_deg").GetDouble() - places[0].GetProperty("bearing_true_deg").GetDouble(), 0.011);
        Assert.All(places, p => Assert.True(p.GetProperty("left_right_m").GetDouble() > 2 && p.GetProperty("ahead_back_m").GetDouble() > 0 && Math.Abs(p.GetProperty("lat").GetDouble() - 31.4516) < 0.001));
        Assert.Equal(["00000000-0000-4000-8000-000000000002"], ways[0].GetProperty("sense_offer").EnumerateArray().Select(n => n.GetString()));
        Assert.Equal(JsonValueKind.Null, ways[2].GetProperty("words").ValueKind);
        Assert.Equal("No steps or direction are written for this nest.", ways[2].GetProperty("why").GetString());

        var search = Assert.Single(bundle.GetProperty("searches").EnumerateArray());
        Assert.Equal(("00000000-0000-4000-8000-000000000002", 28, "2026-06-04"), (search.GetProperty("nest").GetString(), search.GetProperty("check_day").GetInt32(), search.GetProperty("until").GetString()));
        Assert.Equal("Second search until day 31 (4 June 2026)", search.GetProperty("say").GetProperty("en").GetString());
    }

    [Fact]
    public void A_season_that_can_not_be_read_has_none()
    {
        var files = Files();
        files["datapackage.json"] = """{"season":{"trial_days":"soon"}}""";
        using var json = JsonDocument.Parse(Bundle(files));
        Assert.All(new[] { "people", "declination", "ways", "searches", "checks" }, name => Assert.Equal(0, json.RootElement.GetProperty(name).GetArrayLength()));
    }

    private static ReadOnlyMemory<byte> Bundle(Dictionary<string, string>? files = null) =>
        new FieldBundle { SeasonId = Guid.Empty, Tables = FolderInTests.Tables(files ?? Files()), Records = [], Position = 1 }.Utf8(DateTimeOffset.UnixEpoch);

    private static Dictionary<string, string> Files() => new(StringComparer.Ordinal)
    {
        ["datapackage.json"] = """{"season":{"name":"2026","year":2026,"cover_classes":[{"name":"grass","role":"grass"}]}}""",
        ["pastures.csv"] = "property,pasture\nInvented ranch,North\n",
        ["transects.csv"] = "property,pasture,transect,set_on,observer\nInvented ranch,North,T1,2026-05-04,crew 1\n",
        ["nests.csv"] = "id,transect,nest,cover,steps,direction,direction_sense,flag_lat,flag_lon,paced_by\n00000000-0000-4000-8000-000000000001,T1,1,grass,17,NE,,31.4516,-99.2034,\n00000000-0000-4000-8000-000000000002,T1,2,grass,12,S,,31.4516,-99.2030,\n00000000-0000-4000-8000-000000000003,T1,3,grass,,,,,,crew 2\n",
        ["visits.csv"] = "transect,nest,visited_on,finding\nT1,1,2026-05-18,not_relocated\nT1,1,2026-06-01,intact\nT1,2,2026-05-18,intact\nT1,2,2026-06-01,not_relocated\n",
        ["crew.csv"] = "observer,course_m,steps,arm_span_m\ncrew 1,76,100,\ncrew 1,80,100,1.8\n",
    };
}
