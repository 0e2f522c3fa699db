using System.Globalization;
using Tussock.Records;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Results;

/// <summary>The numbers that somebody takes away are those of the results, none lost and none made up.</summary>
public sealed class ChapterTableTests
{
    private static readonly Lazy<ReportNumbers> Demo = new(() => ReportNumbers.Of(SeasonResults.Of(SeasonReading.Read(DemoSeason.Write(1), out _)!), default));

    [Theory]
    [InlineData("verdicts")]
    [InlineData("survival")]
    [InlineData("two_numbers")]
    [InlineData("yardstick")]
    [InlineData("curve")]
    [InlineData("daily")]
    [InlineData("causes")]
    [InlineData("chance")]
    [InlineData("density")]
    [InlineData("segments")]
    [InlineData("comparison")]
    [InlineData("parity")]
    [InlineData("runs")]
    [InlineData("map")]
    [InlineData("time")]
    [InlineData("culprits")]
    [InlineData("left_out")]
    [InlineData("findings")]
    [InlineData("data")]
    public void Every_row_has_a_cell_for_every_column_and_no_number_is_not_one(string chapter)
    {
        var table = ChapterTable.Of(chapter, Demo.Value, Catalogue.English)!;

        Assert.True(ChapterTable.Has(chapter));
        Assert.NotEmpty(table.Rows);
        Assert.Equal(table.Columns.Length, table.Columns.Distinct(StringComparer.Ordinal).Count());
        Assert.All(table.Rows, r => Assert.Equal(table.Columns.Length, r.Length));
        Assert.DoesNotContain(table.Rows, r => r.Any(c => c is "NaN" or "Infinity" or "-Infinity" or "null"));
    }

    [Fact]
    public void A_chapter_without_numbers_has_no_table()
    {
        Assert.False(ChapterTable.Has("methods"));
        Assert.Null(ChapterTable.Of("methods", Demo.Value, Catalogue.English));
    }

    [Fact]
    public void Shares_of_groups_stand_as_exact_as_they_were_computed()
    {
        var table = ChapterTable.Of("survival", Demo.Value, Catalogue.English)!;
        var at = table.Columns.IndexOf("survival_day28_estimate");
        var season = Demo.Value.Results.Groups.Single(g => g.Level == GroupLevel.Season);

        Assert.Equal(season.Day28.Value!.Value, double.Parse(table.Rows[0][at], CultureInfo.InvariantCulture));
        Assert.Equal(Demo.Value.Results.Season.Tables.Tables.Single(t => t.Kind == RecordKind.Belts).Rows.Select(r => (r.Cells[0], r.Cells[1])).Distinct().Count(), ChapterTable.Of("segments", Demo.Value, Catalogue.English)!.Rows.Length);
        Assert.Equal(Demo.Value.Results.Fates.Nests.Length, ChapterTable.Of("data", Demo.Value, Catalogue.English)!.Rows.Length);
    }
}
