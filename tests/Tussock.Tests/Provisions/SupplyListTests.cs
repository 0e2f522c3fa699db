using System.Collections.Frozen;
using Tussock.Provisions;
using Tussock.Records;
using Tussock.Simulation;
using Xunit;

namespace Tussock.Tests.Provisions;

public class SupplyListTests
{
    private static Season Season(int lines, int nests, string renew = "", string marked = "")
    {
        var transects = new RowsOf(RecordKind.Transects, "property", "pasture", "transect", "set_on");
        var stations = new RowsOf(RecordKind.Nests, "transect", "nest", "cover", "marked");
        for (var line = 1; line <= lines; line++)
        {
            transects.Add(("property", "P"), ("pasture", "A"), ("transect", "A" + line));
            for (var nest = 1; nest <= nests; nest++) stations.Add(("transect", "A" + line), ("nest", nest.ToString()), ("marked", nest % 2 == 0 ? marked : ""));
        }

        var pastures = new RowsOf(RecordKind.Pastures, "property", "pasture");
        pastures.Add(("property", "P"), ("pasture", "A"));
        var package = SeasonPackage.Parse("{\"season\":{\"name\":\"s\"" + (renew.Length > 0 ? ",\"renew_eggs\":\"" + renew + "\"" : "") + "},\"resources\":[]}");
        var read = SeasonReading.Read(new SeasonTables(package, [pastures.Table(), transects.Table(), stations.Table(), new RowsOf(RecordKind.Visits, "transect", "nest", "day", "finding", "visited_on").Table()], DemoSeason.Write(1).Texts.Clear()), out var problems);
        Assert.Empty(problems);
        return read!;
    }

    private static int Count(SupplyList list, string name) => list.Rows.SingleOrDefault(r => r.Name == name).Count;

    /// <summary>Six lines of eight nests, half of them expected whole after 28 days: 144 eggs, fresh ones for 48 · √½ = 33.94 nests = 101.82 eggs, a tenth to spare of each.</summary>
    [Fact]
    public void A_small_season_by_hand()
    {
        var list = SupplyList.Of(Season(6, 8), new SupplyNeeds());

        Assert.Equal(159, Count(list, "eggs"));
        Assert.Equal(113, Count(list, "eggs_again"));
        Assert.Equal(53, Count(list, "washers"));
        Assert.Equal(60, Count(list, "flags"));
        Assert.Equal(18, Count(list, "gloves"));
        Assert.Equal(30, Count(list, "sheets"));
        Assert.Null(list.Cost);
        Assert.DoesNotContain(list.Rows, r => r.Name is "cameras" or "batteries");
    }

    [Theory]
    [InlineData("never", 0)]
    [InlineData("spoiled_only", 12)]
    [InlineData("all_intact", 113)]
    public void Fresh_eggs_follow_the_rule_of_the_season(string renew, int eggs) => Assert.Equal(eggs, Count(SupplyList.Of(Season(6, 8, renew), new SupplyNeeds()), "eggs_again"));

    [Fact]
    public void Stations_without_a_flag_need_none() => Assert.Equal(33, Count(SupplyList.Of(Season(6, 8, marked: "none"), new SupplyNeeds()), "flags"));

    [Theory]
    [InlineData(0, 0)]
    [InlineData(1, 159)]
    public void Nobody_needs_more_fresh_eggs_than_were_set_nor_fewer_than_none(double survival, int eggs) => Assert.Equal(eggs, Count(SupplyList.Of(Season(6, 8), new SupplyNeeds { Survival = survival }), "eggs_again"));

    [Fact]
    public void What_has_a_price_is_added_up_and_what_has_none_is_not_guessed()
    {
        var list = SupplyList.Of(Season(6, 8), new SupplyNeeds { Cameras = 4, Spare = 0, UnitCosts = new Dictionary<string, double> { ["eggs"] = 0.25, ["batteries"] = 0.5 }.ToFrozenDictionary() });

        Assert.Equal((144 * 0.25) + (32 * 0.5), list.Cost);
        Assert.Null(list.Rows.Single(r => r.Name == "washers").Cost);
    }

    [Fact]
    public void A_share_above_one_is_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => SupplyList.Of(Season(1, 1), new SupplyNeeds { Survival = 1.5 }));
}
