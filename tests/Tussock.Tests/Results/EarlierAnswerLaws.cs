// Every call here takes a moment: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Buffers;
using Tussock.Records;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Results;

/// <summary>An answer that takes over what an earlier one has is, to the last byte, the answer computed from nothing.</summary>
public class EarlierAnswerLaws
{
    [Theory]
    [InlineData("visits", "finding", "depredated")]
    [InlineData("visits", "finding", "not_relocated")]
    [InlineData("nests", "cover", "elsewhere")]
    [InlineData("nests", "status", "extra")]
    [InlineData("transects", "pasture", "")]
    [InlineData("belts", "clumps", "77")]
    public void What_is_taken_over_changes_no_byte(string table, string column, string text)
    {
        var tables = DemoSeason.Write(3);
        var before = SeasonResults.Of(Read(tables));
        var numbers = ReportNumbers.Of(before);
        var season = Read(With(tables, RecordKind.Named(table)!, 7, column, text));
        var (anew, taken) = (SeasonResults.Of(season), SeasonResults.Of(season, before: before));
        Assert.Equal(Bytes(anew), Bytes(taken));
        Assert.All(taken.Groups, g => Assert.All(g.Fates, f => Assert.Contains(f.Nest, season.Nests)));
        var (written, kept) = (ReportNumbers.Of(anew), ReportNumbers.Of(taken, numbers, default));
        Assert.Equal(written.Groups.Select(Text), kept.Groups.Select(Text));
        Assert.All(kept.Groups, g => Assert.Contains(taken.Groups, t => ReferenceEquals(t, g.Group)));
    }

    [Fact]
    public void Most_of_an_answer_is_taken_over_when_visits_of_one_line_change()
    {
        var tables = DemoSeason.Write(3);
        var before = SeasonResults.Of(Read(tables));
        for (var row = 0; row < 6; row++) tables = With(tables, RecordKind.Visits, row, "finding", "not_relocated");
        var taken = SeasonResults.Of(Read(tables), before: before);
        var known = before.Groups.Select(g => g.Counts).ToHashSet(ReferenceEqualityComparer.Instance);
        var same = taken.Groups.Count(g => known.Contains(g.Counts));
        Assert.InRange(same, taken.Groups.Length / 2, taken.Groups.Length - 3);
    }

    [Fact]
    public void Another_benchmark_takes_nothing_over()
    {
        var tables = DemoSeason.Write(3);
        var before = SeasonResults.Of(Read(tables));
        var other = tables with { Package = tables.Package with { Season = [.. tables.Package.Season.Select(p => p.Name == "benchmarks" ? p with { Json = """{"survival":0.7,"clumps_per_acre":300}""" } : p)] } };
        Assert.Contains(other.Package.Season, p => p.Json.Contains("0.7", StringComparison.Ordinal));
        Assert.Equal(Bytes(SeasonResults.Of(Read(other))), Bytes(SeasonResults.Of(Read(other), before: before)));
    }

    private static Season Read(SeasonTables tables) => SeasonReading.Read(tables, out _)!;

    /// <summary>One cell changed; an empty text means the next pasture's.</summary>
    private static SeasonTables With(SeasonTables tables, RecordKind kind, int row, string column, string text)
    {
        var table = tables.Table(kind)!;
        var at = table.IndexOf(column);
        if (at < 0) table = table with { Columns = table.Columns.Add(column), Rows = [.. table.Rows.Select(r => r with { Cells = r.Cells.Add("") })] };
        at = table.IndexOf(column);
        var to = text.Length > 0 ? text : table.Rows.Select(r => r.Cells[at]).First(p => p != table.Rows[row].Cells[at]);
        var cells = table.Rows[row].Cells.SetItem(at, to);
        if (text.Length == 0) cells = cells.SetItem(table.IndexOf("property"), table.Rows.First(r => r.Cells[at] == to).Cells[table.IndexOf("property")]);
        return tables with { Tables = tables.Tables.Replace(tables.Table(kind)!, table with { Rows = table.Rows.SetItem(row, table.Rows[row] with { Cells = cells }) }) };
    }

    private static byte[] Bytes(SeasonResults results)
    {
        var buffer = new ArrayBufferWriter<byte>();
        ResultsDocument.Write(results, new MadeWith("test", 1, "2026-01-01T00:00:00Z"), withFates: true, Catalogue.English, buffer);
        return buffer.WrittenSpan.ToArray();
    }

    private static string Text(ReportGroup group) => group.Group.Name + string.Join(';', group.Band) + group.Exposure + (group.Incidence.HasValue ? string.Join(';', group.Incidence.Value) : group.Incidence.ToString());
}
