using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Evidence.Practice;
using Tussock.Records;
using Tussock.Results;
using Tussock.Simulation;
using Xunit;

namespace Tussock.Tests.Results;

public class SeasonCasesTests
{
    private static readonly SeasonTables Demo = DemoSeason.Write(1);
    private static readonly ImmutableArray<CaseOffered> Plain = SeasonCases.Of(Read(Demo)).Offered;
    private static readonly CaseOffered[] Ready = [.. Plain.Where(o => o.Missing?.Key == "cases.missing_photos")];

    [Fact]
    public void A_confirmed_nest_says_what_it_lacks_and_nobody_else_is_offered()
    {
        Assert.NotEmpty(Ready);
        Assert.All(Plain, o => Assert.NotNull(o.Missing));
        Assert.All(Plain.Where(o => o.Signs < SeasonCases.FewestSigns), o => Assert.Contains(o.Missing!.Key, (string[])["cases.missing_signs", "cases.missing_several"]));
        var season = Read(Demo);
        var confirmed = LossEvidence.Of(season, Tussock.Fates.SeasonFates.Of(season)).Where(l => l.Evidence.Confirmed is not null).Select(l => (l.Fate.Nest.Transect.Name, l.Fate.Nest.Number));
        Assert.Equal(confirmed.Order(), Plain.Select(o => (o.Nest.Transect.Name, o.Nest.Number)).Order());
    }

    [Fact]
    public void A_photo_of_a_camera_or_of_a_sheet_is_never_offered_and_what_was_not_chosen_is_no_case()
    {
        var (transect, nest) = Of(Ready[0]);
        var with = Season(
            Row("a", transect, nest, ("matched_by", "camera"), ("practice", "yes")), Row("b", transect, nest, ("deployment", "cam 1"), ("practice", "yes")), Row("c", transect, nest, ("sheet", "Check sheet"), ("practice", "yes")),
            Row("d", transect, nest, ("type", "audio/webm"), ("practice", "yes")), Row("e", transect, nest), Row("f", transect, nest, ("practice", "no")));
        var one = SeasonCases.Of(with).Offered.Single(o => Of(o) == (transect, nest));
        Assert.Equal(["e", "f"], one.Photos.Select(p => p.Hash));
        Assert.False(one.IsCase);
        Assert.Empty(SeasonCases.Together([SeasonCases.Of(with)]));
    }

    /// <summary>The law of these cases: what a camera saw at a nest has no part in the program's belief about it.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void The_culprit_of_a_case_does_not_move_the_belief_about_it(int which)
    {
        var (transect, nest) = Of(Ready[which]);
        LocalCase Case(string culprit)
        {
            var tables = With(Demo, Row("a", transect, nest, ("practice", "yes")));
            var cameras = tables.Table(RecordKind.Cameras)!;
            var rows = cameras.Rows.Select(r => r.Cells[cameras.IndexOf("transect")] == transect && r.Cells[cameras.IndexOf("nest")] == nest && r.Cells[cameras.IndexOf("took_eggs")] == "yes" ? r with { Cells = r.Cells.SetItem(cameras.IndexOf("culprit"), culprit) } : r);
            var other = SeasonCases.Of(Read(DemoSeason.Write(2)));
            return Assert.Single(SeasonCases.Together([SeasonCases.Of(Read(tables with { Tables = [.. tables.Tables.Select(t => t.Kind == RecordKind.Cameras ? cameras with { Rows = [.. rows] } : t)] })), other]));
        }

        var (skunk, hog) = (Case("skunk"), Case("feral_hog"));
        Assert.NotEqual(skunk.Case.Truth, hog.Case.Truth);
        Assert.Equal(SignCatalogue.Standard.CulpritIndex("skunk"), skunk.Case.Truth);
        Assert.Equal(skunk.Case.Belief.Chances.Select(BitConverter.DoubleToInt64Bits), hog.Case.Belief.Chances.Select(BitConverter.DoubleToInt64Bits));
        Assert.Equal(skunk.Case.Percents, hog.Case.Percents);
        Assert.Equal(skunk.Common, hog.Common);
        Assert.Equal(skunk.Case.Why.Select(Words.Catalogue.English.Say), hog.Case.Why.Select(Words.Catalogue.English.Say));
        Assert.Equal((100, 100), (skunk.Case.Percents.Sum(), skunk.Common.Sum()));
    }

    [Fact]
    public void What_other_nests_taught_does_move_it()
    {
        var (transect, nest) = Of(Ready[0]);
        var case_ = SeasonCases.Of(Season(Row("a", transect, nest, ("practice", "yes"))));
        var alone = Assert.Single(SeasonCases.Together([case_]));
        var beside = Assert.Single(SeasonCases.Together([case_, SeasonCases.Of(Read(DemoSeason.Write(2)))]));
        Assert.NotEqual(alone.Case.Belief.Chances, beside.Case.Belief.Chances);
        Assert.Equal(alone.Id, beside.Id);
    }

    [Fact]
    public void Cases_are_bounded_in_number_and_in_photos_and_tell_no_place()
    {
        var rows = Ready.SelectMany(o => Enumerable.Range(0, 4).Select(i => Row($"{Of(o).Transect}{Of(o).Nest}{i}", Of(o).Transect, Of(o).Nest, ("practice", "yes")))).ToArray();
        var season = SeasonCases.Of(Season(rows));
        var cases = SeasonCases.Together([season, season]);
        Assert.Equal(SeasonCases.MostCases, cases.Length);
        Assert.All(cases, c => Assert.Equal(SeasonCases.MostPhotos, c.Photos.Length));
        Assert.All(cases, c => Assert.Matches("^[0-9a-f]{16}$", c.Id));
        // Every row of remains is one that a phone can show.
        foreach (var seen in cases.SelectMany(c => c.Case.Remains)) Assert.Contains(seen.Value, SignCatalogue.Standard.Signs.Single(s => s.Sign == seen.Sign).Values);
    }

    private static (string Transect, string Nest) Of(CaseOffered one) => (one.Nest.Transect.Name, Words.Numbers.Whole(one.Nest.Number));

    private static Dictionary<string, string> Row(string hash, string transect, string nest, params ReadOnlySpan<(string Column, string Text)> more)
    {
        var row = new Dictionary<string, string>(StringComparer.Ordinal) { ["media"] = hash, ["type"] = "image/jpeg", ["transect"] = transect, ["nest"] = nest };
        foreach (var (column, text) in more) row[column] = text;
        return row;
    }

    private static Season Season(params Dictionary<string, string>[] media) => Read(With(Demo, media));

    private static SeasonTables With(SeasonTables tables, params Dictionary<string, string>[] media)
    {
        ImmutableArray<string> columns = ["media", "type", "transect", "nest", "matched_by", "deployment", "sheet", "practice"];
        var table = new RecordTable(RecordKind.Media, columns, [.. media.Select((m, i) => new RecordRow(i + 2, [.. columns.Select(c => m.GetValueOrDefault(c, ""))]))]);
        return tables with { Tables = [.. tables.Tables, table] };
    }

    private static Season Read(SeasonTables tables) => SeasonReading.Read(tables, out _)!;
}
