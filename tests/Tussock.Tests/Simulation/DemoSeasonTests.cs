using System.Text.Json;
using Tussock.Fates;
using Tussock.Records;
using Tussock.Results;
using Tussock.Simulation;
using Xunit;

namespace Tussock.Tests.Simulation;

public class DemoSeasonTests
{
    [Fact]
    public void The_same_seed_writes_the_same_text() => Assert.Equal(Text(DemoSeason.Write(1)), Text(DemoSeason.Write(1)));

    [Fact]
    public void Another_seed_writes_another_text() => Assert.NotEqual(Text(DemoSeason.Write(1)), Text(DemoSeason.Write(2)));

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void Nothing_in_it_stops_a_reader(ulong seed)
    {
        var season = SeasonReading.Read(DemoSeason.Write(seed), out var problems);
        Assert.Empty(problems);
        Assert.NotNull(season);
        Assert.Equal(2, season.Pastures.Select(p => p.Property).Distinct().Count());
    }

    [Fact]
    public void It_is_smaller_than_a_megabyte() => Assert.InRange(System.Text.Encoding.UTF8.GetByteCount(Text(DemoSeason.Write(1))), 50_000, 1_000_000);

    [Fact]
    public void Every_kind_of_record_that_has_columns_of_its_own_is_in_it()
    {
        var tables = DemoSeason.Write(1);
        Assert.Equal(RecordKind.All.Where(k => k.Columns.Length > 2), tables.Tables.Select(t => t.Kind));
        Assert.All(tables.Tables, t => Assert.NotEmpty(t.Rows));
        Assert.Contains("soil", tables.Table(RecordKind.Transects)!.Columns);
        foreach (var text in tables.Texts.Values) JsonDocument.Parse(text).Dispose();
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void The_four_lines_of_the_ranch_end_with_five_four_three_and_one_whole(ulong seed)
    {
        var fates = SeasonFates.Of(Season(seed));
        var whole = fates.Rows.Where(f => f.Nest.Transect.Pasture.Property == "Two Windmills").GroupBy(f => f.Nest.Transect.Name).Select(g => g.Count(f => f.Day28 == FateAt.Survived));
        Assert.Equal([1, 3, 4, 5], whole.Order());
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void Enough_cameras_saw_losses_on_one_property_and_too_few_on_the_other(ulong seed)
    {
        var season = Season(seed);
        var seen = season.CameraEvents.Where(e => e.TookEggs == true).Select(e => e.Nest).Distinct().ToLookup(n => n.Transect.Pasture.Property);
        Assert.InRange(seen["Thirteen Gates"].Count(), 8, 40);
        Assert.InRange(seen["Two Windmills"].Count(), 0, 4);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void A_camera_saw_no_loss_before_the_last_visit_that_found_the_nest_whole_or_after_the_first_that_found_it_lost(ulong seed)
    {
        var season = Season(seed);
        var timed = SeasonFates.Of(season).Rows.Where(f => f.LostAt is not null).ToArray();
        Assert.NotEmpty(timed);
        Assert.All(timed, f => Assert.InRange(f.LostAt!.Value, f.LastIntact, f.FirstLost ?? double.MaxValue));
        Assert.Equal(season.CameraEvents.Where(e => e.TookEggs == true).Select(e => e.Nest).Distinct().Count(), timed.Length);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void Each_pasture_gets_the_verdict_it_was_made_for(ulong seed)
    {
        var season = Season(seed);
        var fates = SeasonFates.Of(season);
        var groups = GroupDefinition.Of(season, fates.Spans).Where(d => d.Level is GroupLevel.Pasture or GroupLevel.Property).Select(d => GroupEstimates.Of(d, fates, season.Settings, Trial.Usual));
        var verdicts = VerdictRows.Of(season, [.. groups], Belts.Of(season), Trial.Usual, new ResultsOptions());
        Assert.Equal(
            [("Caliche Hill", "survival_good_cover_thin"), ("East Pasture", "losses_despite_cover"), ("Mill Pasture", "not_enough_data"), ("North Draw", "good"), ("Old Field", "cover_limited"), ("Two Windmills", "not_enough_data")],
            verdicts.Select(v => (v.Pasture?.Name ?? v.Property, v.Verdict.Token)));
    }

    [Fact]
    public void Trampling_leads_the_reasons_where_cattle_came_in()
    {
        var fates = SeasonFates.Of(Season(1)).Rows.Where(f => f.Nest.Transect.Pasture.Name == "East Pasture" && f.IsLost).ToArray();
        Assert.True(fates.Count(f => f.Cause == Cause.Trampled) * 2 > fates.Length);
        Assert.All(fates.Where(f => f.Cause == Cause.Trampled), f => Assert.Equal(FateAt.Survived, f.Day14));
        Assert.Contains(Season(1).Events, e => e is { Kind: "livestock_in", Pasture: "East Pasture", Amount: 30 });
    }

    private static Season Season(ulong seed) => SeasonReading.Read(DemoSeason.Write(seed), out _)!;

    private static string Text(SeasonTables tables) => tables.Package.ToText() + string.Concat(tables.Texts.Values)
        + string.Concat(tables.Tables.Select(t => string.Join(',', t.Columns) + "\n" + string.Concat(t.Rows.Select(r => string.Join(',', r.Cells) + "\n"))));
}
