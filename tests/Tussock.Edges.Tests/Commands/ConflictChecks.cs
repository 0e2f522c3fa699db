using System.Globalization;
using System.Text.Json;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>A hand-made season in which every conflict of the fate rule stands once, nest by nest through the program.</summary>
public class ConflictChecks
{
    private static readonly string Folder = Path.Combine(Checks.Folder("reference-seasons"), "conflicts12", "season");
    private static readonly Lazy<JsonElement> LazyResults = new(() => Typed.Results(Folder));

    private static IEnumerable<string[]> Expected => Checks.Read("reference-seasons", Path.Combine("conflicts12", "expected_fates.csv")).Split('\n').Skip(1).Where(l => l.Length > 0).Select(l => l.Split(','));

    private static double? Number(string cell) => cell.Length == 0 ? null : double.Parse(cell, CultureInfo.InvariantCulture);

    [Fact]
    public void Every_nest_has_its_days_and_its_fates()
    {
        var by = new Comparison();
        foreach (var row in Expected)
        {
            var fate = LazyResults.Value.Fate(row[0], int.Parse(row[1], CultureInfo.InvariantCulture));
            var name = row[0] + " nest " + row[1];
            by.Near(name + " a", fate.Number("a"), Number(row[3]), 0, 1e-9);
            if (row[2] == "yes") by.Near(name + " b", fate.Number("b"), Number(row[4]), 0, 1e-9);
            by.Near(name + " t", fate.Number("t"), Number(row[5]), 0, 1e-9);
            if ((fate.Text("day14"), fate.Text("day28")) != (row[6], row[8])) by.Differences.Add($"{name}: {fate.Text("day14")}, {fate.Text("day28")}, expected {row[6]}, {row[8]}");
        }

        Assert.Empty(by.Differences);
        Assert.Equal(18, Expected.Count());
        Assert.Equal(18, LazyResults.Value.GetProperty("fates").GetArrayLength());
    }

    [Fact]
    public void The_counts_are_those_of_the_table()
    {
        var table = Checks.Read("reference-seasons", Path.Combine("conflicts12", "README.md")).Split('\n').Where(l => l.StartsWith("| 14 |", StringComparison.Ordinal) || l.StartsWith("| 28 |", StringComparison.Ordinal))
            .Select(l => l.Split('|', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)).ToDictionary(c => c[0]);
        var fates = LazyResults.Value.GetProperty("fates").EnumerateArray().ToList();
        foreach (var (day, row) in table)
        {
            int Count(params string[] tokens) => fates.Count(f => tokens.Contains(f.Text("day" + day)));
            Assert.Equal(row[1..6], new[] { Count("survived", "lost", "unknown"), Count("survived", "lost"), Count("survived"), Count("lost"), Count("unknown") }.Select(n => n.ToString(CultureInfo.InvariantCulture)));
        }

        var group = LazyResults.Value.Group("season");
        var end = table["28"];
        Assert.Equal(end[1..3].Append(end[3]).Concat(end[5..8]), new[] { "nests", "fate_known", "intact", "unknown", "depredated", "other_loss" }.Select(k => group.Number(k)!.Value.ToString(CultureInfo.InvariantCulture)));
        Assert.Equal(end[8..10], new[] { "day28_if_unknown_lost", "day28_if_unknown_survived" }.Select(k => Math.Round(group.Number("survival/" + k)!.Value * 17, 9).ToString(CultureInfo.InvariantCulture) + "/17"));
    }

    [Fact]
    public void Inspect_reports_every_line_that_has_to_be_flagged()
    {
        var expected = Expected.SelectMany(r => r[11].Split(';', StringSplitOptions.RemoveEmptyEntries)).ToHashSet(StringComparer.Ordinal);
        var found = Typed.Findings(Folder).Where(f => f.Number("line") is not null).Select(f => Path.GetFileNameWithoutExtension(f.Text("file")) + ":" + f.Number("line")!.Value.ToString(CultureInfo.InvariantCulture));

        Assert.Equal(8, expected.Count);
        Assert.Empty(expected.Except(found, StringComparer.Ordinal));
    }
}
