using System.Collections.Immutable;
using System.Text;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Tussock.Exchange.Reading;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;

namespace Tussock.Edges.Tests.Exchange;

/// <summary>Any table that is written reads back as it was. In memory: flushing thousands of files to a disk would test the disk.</summary>
public class SeasonFolderLaws
{
    [Property(MaxTest = 300, EndSize = 12)]
    public Property Any_table_written_and_read_again_is_the_same() => Prop.ForAll(Gen.Elements(RecordKind.All.AsEnumerable()).SelectMany(Table).ToArbitrary(), table =>
    {
        using var stream = new MemoryStream(Encoding.UTF8.GetBytes(Text(table)));
        var problems = new List<Problem>();

        var again = TableReader.Read(stream, table.Kind, new FileFindings(table.Kind.File, 10, problems), CsvLimits.Usual, CancellationToken.None);

        return problems.Count == 0 && again is not null && Shown(table) == Shown(again) && Text(table) == Text(again);
    });

    [Property(MaxTest = 300, EndSize = 12)]
    public Property Lines_of_rows_are_those_of_the_text() => Prop.ForAll(Table(RecordKind.Visits).ToArbitrary(), table =>
    {
        using var stream = new MemoryStream(Encoding.UTF8.GetBytes(Text(table)));

        var again = TableReader.Read(stream, table.Kind, new FileFindings(table.Kind.File, 10, []), CsvLimits.Usual, CancellationToken.None)!;

        var line = 1 + Lines(table.Columns);
        foreach (var row in again.Rows)
        {
            if (row.Line != line) return false;
            line += Lines(row.Cells);
        }

        return true;
    });

    private static int Lines(ImmutableArray<string> cells) => 1 + cells.Sum(c => c.Replace("\r\n", "\n", StringComparison.Ordinal).Count(s => s is '\r' or '\n'));

    private static string Text(RecordTable table)
    {
        using var writer = new StringWriter();
        CsvText.Write(table, writer, CancellationToken.None);
        return writer.ToString();
    }

    private static string Shown(RecordTable table) => string.Join('¦', table.Columns) + '\n' + string.Join('\n', table.Rows.Select(r => string.Join('¦', r.Cells)));

    private static Gen<RecordTable> Table(RecordKind kind) =>
        from known in Gen.SubListOf(kind.Columns.Select(c => c.Name))
        from unknown in Texts().Where(t => t.Trim().Length > 0).ListOf()
        from columns in Gen.Shuffle([.. known.Concat(unknown), "id"])
        from rows in Gen.Sized(n => Gen.Choose(0, n).SelectMany(count => Cells(columns.Length).ListOf(count)))
        select new RecordTable(kind, [.. columns], [.. rows.Select(r => new RecordRow(0, r))]);

    /// <summary>A row in which nothing is written is none: no reader keeps it.</summary>
    private static Gen<ImmutableArray<string>> Cells(int count) =>
        from cells in Texts().ListOf(count)
        where cells.Any(c => c.Trim(' ', '\t').Length > 0)
        select cells.ToImmutableArray();

    /// <summary>Texts of everyday signs and of those that a table could stumble over; no byte of value 0, which no text has.</summary>
    private static Gen<string> Texts() => Gen.Elements("a", "Z", "7", " ", ",", "\"", "\n", "\r", "\r\n", ";", "\t", "'", "é", "🦡", "\uFEFF", "-", "=", "\u2028").ListOf().Select(string.Concat);
}
