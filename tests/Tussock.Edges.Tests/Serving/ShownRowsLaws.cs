using System.Globalization;
using Tussock.Desk;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>A table as a page shows it is what filtering and sorting all rows by hand gives, however often the table has changed before.</summary>
public sealed class ShownRowsLaws
{
    private static readonly string[] Texts = ["", "2", "10", "1.5", "intact", "Intact ", "depredated", "crew 1", "-3", "1e2", "ä"];

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void It_is_what_doing_it_by_hand_gives(int seed)
    {
        var random = new Random(seed);
        var table = new RecordTable(RecordKind.Visits, ["transect", "nest", "finding", "note", "id"], [.. Enumerable.Range(0, 350).Select(i => Row(i, random))]);
        for (var round = 0; round < 60; round++)
        {
            var asked = new TableAsked(random.Next(3) == 0 ? "" : Texts[random.Next(Texts.Length)].ToUpperInvariant(), new[] { "", "nest", "finding", "note", "id", "nonsense" }[random.Next(6)], random.Next(2) == 0, random.Next(-1, 6));
            var shown = ShownRows.Of(table, asked);
            var all = ByHand(table, asked);
            var page = Math.Clamp(asked.Page, 1, Math.Max(1, (all.Length + 99) / 100));

            Assert.Equal((all.Length, page), (shown.Found, shown.Page));
            Assert.Equal(all.Skip((page - 1) * 100).Take(100).Select(r => r.Line), shown.Rows.Select(r => r.Line));
            Assert.DoesNotContain(4, shown.Columns);
            Assert.Equal(table.Rows.Any(r => r.Cells[3].Length > 0), shown.Columns.Contains(3));
            table = Changed(table, random);
        }
    }

    private static RecordTable Changed(RecordTable table, Random random) => random.Next(5) switch
    {
        0 => table with { Rows = table.Rows.RemoveAt(random.Next(table.Rows.Length)) },
        1 => table with { Rows = table.Rows.Add(Row(random.Next(), random)) },
        2 => table with { Rows = [.. table.Rows.Select(r => r with { Cells = r.Cells.SetItem(3, "") })] },
        _ => table with { Rows = table.Rows.SetItem(random.Next(table.Rows.Length), Row(random.Next(), random)) },
    };

    private static RecordRow Row(int line, Random random) => new(line, ["T" + random.Next(9).ToString(CultureInfo.InvariantCulture), .. Enumerable.Range(0, 3).Select(_ => Texts[random.Next(Texts.Length)]), Guid.NewGuid().ToString()]);

    private static RecordRow[] ByHand(RecordTable table, TableAsked asked)
    {
        var rows = table.Rows.Where(r => asked.Text.Length == 0 || r.Cells.Take(4).Any(c => c.Contains(asked.Text, StringComparison.OrdinalIgnoreCase)));
        if (asked.Sort is "" or "id" or "nonsense") return [.. rows];
        var at = table.IndexOf(asked.Sort);
        var order = rows.OrderBy(r => r.Cells[at].Length == 0);
        return asked.Descending
            ? [.. order.ThenByDescending(r => Cell.Number(r.Cells[at]) ?? double.NegativeInfinity).ThenByDescending(r => r.Cells[at], StringComparer.Ordinal)]
            : [.. order.ThenBy(r => Cell.Number(r.Cells[at]) ?? double.PositiveInfinity).ThenBy(r => r.Cells[at], StringComparer.Ordinal)];
    }
}
