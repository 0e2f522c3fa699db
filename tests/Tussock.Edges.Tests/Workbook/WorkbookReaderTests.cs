using System.Collections.Immutable;
using Tussock.Exchange.Spreadsheet;
using Tussock.Exchange.Workbook;
using Tussock.Records;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Workbook;

/// <summary>What other programs and people make of a workbook, and what is said about it.</summary>
public sealed class WorkbookReaderTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("tussock-workbook-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Real_dates_times_numbers_formulas_capitals_blanks_and_a_title_above_are_taken()
    {
        var book = HandMadeBook.Least();
        book.Sheet("Visits", book.Row(1, "Visits of the crew") + book.Row(3, "Transect", "Nest", "Visited On", "Visited At", "Finding", "Eggs Refreshed", "(due on)", "Soil")
            + "<row r=\"5\">" + book.Cells(5, "A") + "<c r=\"B5\"><v>1</v></c><c r=\"C5\" s=\"1\"><f>C4+1</f><v>45432</v></c><c r=\"D5\" s=\"2\"><v>0.77083333333333337</v></c>" + "<c r=\"E5\" t=\"inlineStr\"><is><t>Other Loss</t></is></c><c r=\"F5\" t=\"b\"><v>1</v></c><c r=\"G5\"><v>45432</v></c><c r=\"H5\"><v>0.29999999999999999</v></c></row>"
            + book.Row(7, "A", " 2 ", "2024-05-20", "18:30", "NOT RELOCATED"));

        var visits = Tables(book).Table(RecordKind.Visits)!;

        Assert.Equal(["transect", "nest", "visited_on", "visited_at", "finding", "eggs_refreshed", "Soil"], visits.Columns);
        Assert.Equal(["A", "1", "2024-05-20", "18:30", "Other Loss", "yes", "0.3"], visits.Rows[0].Cells);
        Assert.Equal(["A", " 2 ", "2024-05-20", "18:30", "NOT RELOCATED", "", ""], visits.Rows[1].Cells);
        var season = SeasonReading.Read(Tables(book), out _)!;
        Assert.Equal([Finding.OtherLoss, Finding.NotRelocated], season.Visits.Select(v => v.Finding));
    }

    [Fact]
    public void Dates_counted_from_1904_are_taken()
    {
        var book = new HandMadeBook { Is1904 = true };
        book.Sheet("season", book.Row(1, "setting", "value") + book.Row(2, "name", "made"));
        book.Sheet("pastures", book.Row(1, "property", "pasture") + book.Row(2, "P", "S"));
        // Day 43956 from 1904 is day 45418 from 1900 (ECMA-376 part 1, 18.17.4.1: they lie 1,462 days apart): 6 May 2024.
        book.Sheet("transects", book.Row(1, "property", "pasture", "transect", "set_on") + "<row r=\"2\">" + book.Cells(2, "P", "S", "A") + "<c r=\"D2\" s=\"1\"><v>43956</v></c></row>");
        book.Sheet("nests", book.Row(1, "transect", "nest", "cover") + book.Row(2, "A", "1", "bunchgrass"));
        book.Sheet("visits", book.Row(1, "transect", "nest", "day", "finding"));

        Assert.Equal("2024-05-06", Tables(book).Table(RecordKind.Transects)!.Rows[0].Cells[3]);
    }

    [Fact]
    public void A_cell_merged_downwards_stands_in_each_of_its_rows()
    {
        var book = HandMadeBook.Least();
        book.Sheet("visits", book.Row(1, "transect", "nest", "day", "finding") + book.Row(2, "A", "1", "14", "intact") + book.Row(3, "", "2", "14", "intact"), "<mergeCells count=\"1\"><mergeCell ref=\"A2:A3\"/></mergeCells>");

        Assert.Equal(["A", "A"], Tables(book).Table(RecordKind.Visits)!.Rows.Select(r => r.Cells[0]));
    }

    [Fact]
    public void A_row_that_was_offered_and_not_filled_in_is_no_record_and_one_that_was_is()
    {
        var book = HandMadeBook.Least();
        book.Sheet("visits", book.Row(1, "transect", "nest", "(check)", "(due on)", "visited_on", "finding") + book.Row(2, "A", "1", "day 14", "2024-05-20") + book.Row(3, "A", "2", "day 14", "2024-05-20", "2024-05-20", "intact"));

        var row = Assert.Single(Tables(book).Table(RecordKind.Visits)!.Rows);
        Assert.Equal("2", row.Cells[1]);
        Assert.Equal(3, row.Line);
    }

    [Theory]
    [InlineData("<c r=\"D7\" t=\"inlineStr\"><is><t>intackt</t></is></c>", "visits!D7", "found “intackt”, expected one of: intact, depredated, other_loss, not_relocated")]
    [InlineData("<c r=\"C7\" t=\"inlineStr\"><is><t>20/05/2024</t></is></c>", "visits!C7", "expected a date as year-month-day")]
    [InlineData("<c r=\"C7\"><v>45432</v></c>", "visits!C7", "found “45432”, expected a date")]
    [InlineData("<c r=\"D7\" t=\"e\"><v>#N/A</v></c>", "visits!D7", "#N/A")]
    [InlineData("<c r=\"D7\"><f>A1</f></c>", "visits!D7", "no program has worked out")]
    [InlineData("<c r=\"F7\" t=\"inlineStr\"><is><t>scribble</t></is></c>", "visits!F7", "without a heading")]
    public void A_cell_that_cannot_be_read_is_told_by_file_sheet_and_cell(string cell, string place, string says)
    {
        var book = HandMadeBook.Least();
        var cells = new SortedDictionary<string, string>(StringComparer.Ordinal)
        {
            ["C"] = "<c r=\"C7\" s=\"1\"><v>45432</v></c>", ["D"] = "<c r=\"D7\" t=\"inlineStr\"><is><t>intact</t></is></c>",
        };
        cells[cell[6..7]] = cell;
        book.Sheet("visits", book.Row(1, "transect", "nest", "visited_on", "finding") + "<row r=\"7\">" + book.Cells(7, "A", "1") + string.Concat(cells.Values) + "</row>");
        var path = book.Write(folder);

        var (tables, problems) = SeasonWorkbookReader.Read(path, TestContext.Current.CancellationToken);

        Assert.Null(tables);
        var problem = Assert.Single(problems);
        Assert.StartsWith(Path.GetFileName(path) + " " + place, problem.Place.ToString(), StringComparison.Ordinal);
        Assert.Contains(says, Catalogue.English.Say(problem.What), StringComparison.Ordinal);
        Assert.NotEmpty(Catalogue.English.Say(problem.ToDo));
    }

    [Fact]
    public void A_visit_to_no_nest_is_told_with_its_row()
    {
        var book = HandMadeBook.Least();
        book.Sheet("visits", book.Row(1, "transect", "nest", "day", "finding") + book.Row(4, "A", "9", "14", "intact"));

        Assert.Contains("visits!", Assert.Single(Problems(book)).Place.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Missing_sheets_headings_and_settings_are_each_told_once()
    {
        var book = new HandMadeBook();
        book.Sheet("season", book.Row(1, "setting", "value") + book.Row(2, "name", "json:{"));
        book.Sheet("pastures", book.Row(1, "Weide", "Hof"));
        book.Sheet("nests", book.Row(1, "transect", "nest", "cover"));
        book.Sheet("Nests", book.Row(1, "transect", "nest", "cover"));

        Assert.Equal(["sheet_twice", "no_heading", "no_sheet", "no_sheet", "no_json"], Problems(book).Select(p => p.Rule));
    }

    [Fact]
    public void A_sheet_that_is_no_record_is_noted_and_the_rest_is_read()
    {
        var book = HandMadeBook.Least();
        book.Sheet("visits", book.Row(1, "transect", "nest", "day", "finding")).Sheet("shopping", book.Row(1, "eggs"));

        var (tables, problems) = SeasonWorkbookReader.Read(book.Write(folder), TestContext.Current.CancellationToken);

        Assert.NotNull(tables);
        Assert.Equal(Severity.Note, Assert.Single(problems).Severity);
    }

    [Theory]
    [InlineData(new byte[] { 0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1 }, "old_or_locked")]
    [InlineData(new byte[] { 0x50, 0x4B, 0x03, 0x04 }, "damaged")]
    [InlineData(new byte[] { }, "damaged")]
    public void What_is_no_workbook_is_said(byte[] bytes, string rule)
    {
        var path = Path.Combine(folder, "x.xlsx");
        File.WriteAllBytes(path, bytes);

        Assert.Equal(rule, Assert.Single(SeasonWorkbookReader.Read(path, TestContext.Current.CancellationToken).Problems).Rule);
    }

    [Fact]
    public void Other_zip_files_and_wrong_sheets_are_said()
    {
        var odt = Path.Combine(folder, "a.ods");
        using (var zip = System.IO.Compression.ZipFile.Open(odt, System.IO.Compression.ZipArchiveMode.Create)) HandMadeBook.Part(zip, "META-INF/manifest.xml", "<a/>");
        var wrong = new HandMadeBook();
        wrong.Sheet("Table1", wrong.Row(1, "eggs"));

        Assert.Equal("open_document", Assert.Single(SeasonWorkbookReader.Read(odt, TestContext.Current.CancellationToken).Problems).Rule);
        Assert.Equal("no_sheets", Assert.Single(Problems(wrong)).Rule);
    }

    [Theory]
    [InlineData("bytes")]
    [InlineData("shared")]
    [InlineData("attribute")]
    [InlineData("columns")]
    [InlineData("cells")]
    [InlineData("merged")]
    public void What_unpacks_without_end_is_refused_within_the_limits(string how)
    {
        var limits = new SheetLimits { UnpackedBytes = 8 << 20, SharedCharacters = 1 << 20, TagBytes = 2 << 20, Cells = 10_000 };
        var book = HandMadeBook.Least();
        var rows = how switch
        {
            "columns" => "<row r=\"1\"><c r=\"XFD1\" t=\"str\"><v>x</v></c></row>",
            "cells" => string.Concat(Enumerable.Range(1, 11_000).Select(i => "<row r=\"" + i + "\"><c r=\"A" + i + "\"><v>1</v></c></row>")),
            "attribute" => "<row r=\"1\" spans=\"" + new string('1', 3 << 20) + "\"/>",
            "bytes" => new string(' ', 9 << 20),
            "shared" => "<row r=\"1\"><c r=\"A1\" t=\"str\"><v>" + new string('a', 2 << 20) + "</v></c></row>",
            _ => "<row r=\"1\"><c r=\"A1\" t=\"str\"><v>x</v></c></row>",
        };
        book.Sheet("visits", rows, how == "merged" ? "<mergeCells><mergeCell ref=\"A1:A1048576\"/></mergeCells>" : "");

        var (tables, problems) = SeasonWorkbookReader.Read(book.Write(folder), limits, TestContext.Current.CancellationToken);

        Assert.Null(tables);
        Assert.Equal("too_large", Assert.Single(problems).Rule);
    }

    [Fact]
    public void A_document_type_and_what_it_would_unfold_is_refused()
    {
        var book = HandMadeBook.Least();
        var path = book.Write(folder);
        using (var zip = System.IO.Compression.ZipFile.Open(path, System.IO.Compression.ZipArchiveMode.Update))
        {
            zip.GetEntry("xl/sharedStrings.xml")!.Delete();
            HandMadeBook.Part(zip, "xl/sharedStrings.xml", "<!DOCTYPE a [<!ENTITY b \"bbbb\">]><sst><si><t>&b;</t></si></sst>");
        }

        Assert.Equal("damaged", Assert.Single(SeasonWorkbookReader.Read(path, TestContext.Current.CancellationToken).Problems).Rule);
    }

    [Fact]
    public void Whatever_happens_to_the_bytes_a_sentence_is_said_and_nothing_breaks()
    {
        using var stream = new MemoryStream();
        SeasonWorkbookWriter.Write(SeasonWorkbookWriter.Blank, null, Catalogue.English, stream, TestContext.Current.CancellationToken);
        var whole = stream.ToArray();
        var hand = HandMadeBook.Least();
        hand.Sheet("visits", hand.Row(1, "transect", "nest", "day", "finding") + hand.Row(2, "A", "1", "14", "intact"));
        byte[][] corpus = [whole, File.ReadAllBytes(hand.Write(folder))];
        var draw = new Random(20_260_514);
        var path = Path.Combine(folder, "x.xlsx");
        for (var i = 0; i < 400; i++)
        {
            var bytes = (byte[])corpus[i % 2].Clone();
            for (var k = draw.Next(1, 12); k > 0; k--) bytes[draw.Next(bytes.Length)] = (byte)draw.Next(256);
            if (draw.Next(3) == 0) bytes = bytes[..draw.Next(bytes.Length)];
            File.WriteAllBytes(path, bytes);

            var (tables, problems) = SeasonWorkbookReader.Read(path, TestContext.Current.CancellationToken);

            Assert.True(tables is not null || problems.Any(p => p.Severity == Severity.Stop));
            foreach (var problem in problems) Assert.NotEmpty(Catalogue.English.Say(problem.What) + Catalogue.English.Say(problem.ToDo));
        }
    }

    [Fact]
    public void Whatever_stands_in_the_parts_a_sentence_is_said_and_nothing_breaks()
    {
        var draw = new Random(20_260_515);
        for (var i = 0; i < 300; i++)
        {
            var book = HandMadeBook.Least();
            var rows = book.Row(1, "transect", "nest", "visited_on", "finding") + "<row r=\"2\">" + book.Cells(2, "A", "1", "", "intact") + "<c r=\"C2\" s=\"1\"><v>45432</v></c></row>";
            for (var k = draw.Next(1, 4); k > 0; k--)
            {
                var at = draw.Next(rows.Length);
                rows = draw.Next(3) switch
                {
                    0 => rows[..at] + rows[Math.Min(rows.Length, at + draw.Next(1, 9))..],
                    1 => rows.Insert(at, new[] { "<c r=\"A2\"/>", "9", "-", "99999999999999999999", "\"", "<row r=\"-1\">", "<is>", " t=\"s\"", "&#1;", "A", "NaN", "1e308" }[draw.Next(12)]),
                    _ => rows.Replace(rows[at], (char)draw.Next(33, 126)),
                };
            }

            book.Sheet("visits", rows);

            var (tables, problems) = SeasonWorkbookReader.Read(book.Write(folder), TestContext.Current.CancellationToken);

            Assert.True(tables is not null || problems.Any(p => p.Severity == Severity.Stop));
        }
    }

    private SeasonTables Tables(HandMadeBook book)
    {
        var (tables, problems) = SeasonWorkbookReader.Read(book.Write(folder), TestContext.Current.CancellationToken);
        Assert.True(tables is not null, string.Join('\n', problems.Select(p => p.Place + " " + Catalogue.English.Say(p.What))));
        return tables;
    }

    private ImmutableArray<Problem> Problems(HandMadeBook book) => SeasonWorkbookReader.Read(book.Write(folder), TestContext.Current.CancellationToken).Problems;
}
