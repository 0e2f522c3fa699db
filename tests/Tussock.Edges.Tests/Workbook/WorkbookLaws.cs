using System.Collections.Immutable;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Validation;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Tussock.Edges.Tests.Commands;
using Tussock.Edges.Tests.Exchange;
using Tussock.Exchange.Workbook;
using Tussock.Records;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Workbook;

/// <summary>A workbook that nobody touched says what its season said.</summary>
public sealed class WorkbookLaws : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("tussock-workbook-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void An_invented_season_comes_back_as_it_was(int seed)
    {
        var season = DemoSeason.Write((ulong)seed);

        var (tables, problems) = ThroughFile(season);

        Assert.True(problems.IsEmpty, string.Join('\n', problems.Select(p => p.Place + " " + Catalogue.English.Say(p.What))));
        Assert.Equal(SameTables.Shown(season), SameTables.Shown(tables!));
    }

    [Property(MaxTest = 60, EndSize = 12)]
    public Property Any_season_with_any_texts_comes_back_as_it_was() => Prop.ForAll(Strange().ToArbitrary(), season =>
    {
        var (tables, problems) = ThroughFile(season);

        return (tables is not null && SameTables.Shown(season) == SameTables.Shown(tables)).Label(tables is null ? string.Join('\n', problems.Select(p => p.Place + " " + Catalogue.English.Say(p.What))) : SameTables.Shown(season) + "\n--- came back as\n" + SameTables.Shown(tables));
    });

    [Fact]
    public void Results_of_the_imported_workbook_are_those_of_the_folder_byte_for_byte_and_importing_again_does_nothing()
    {
        var season = Path.Combine(folder, "season");
        Typed.Done("demo", season);
        var book = Path.Combine(folder, "book.xlsx");
        Typed.Done("sheets", season, "--workbook", book);
        var data = Path.Combine(folder, "a.tussock");

        Typed.Done("import", data, book);

        Assert.Equal(Typed.ResultsText(season), Typed.ResultsText(data));
        var before = File.ReadAllBytes(data);
        Assert.Contains("Nothing to do", Typed.Done("import", data, book).Out, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(data));
        var again = Path.Combine(folder, "again.xlsx");
        Typed.Done("sheets", data, "--workbook", again);
        Assert.Contains("Nothing to do", Typed.Done("import", data, again).Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("new")]
    public void The_file_keeps_the_rules_of_the_standard(string data)
    {
        var book = Path.Combine(folder, "book.xlsx");
        Typed.Done("sheets", data, "--workbook", book);

        // ECMA-376 (transitional), as the general-purpose library DocumentFormat.OpenXml 3.3.0 checks it: schemas and the rules between parts.
        using var document = SpreadsheetDocument.Open(book, false);
        var wrong = new OpenXmlValidator(FileFormatVersions.Microsoft365).Validate(document, TestContext.Current.CancellationToken).Select(e => e.Part?.Uri + " " + e.Path?.XPath + ": " + e.Description).ToArray();

        Assert.True(wrong.Length == 0, string.Join('\n', wrong.Take(10)));
        Assert.True(document.WorkbookPart!.WorksheetParts.Count() > 12);
    }

    [Fact]
    public void The_same_season_gives_the_same_bytes()
    {
        var season = DemoSeason.Write(1);

        Assert.Equal(Bytes(season), Bytes(season));
    }

    [Fact]
    public void A_workbook_that_is_there_is_never_overwritten()
    {
        var book = Path.Combine(folder, "book.xlsx");
        File.WriteAllText(book, "filled in");

        var run = Typed.Run("sheets", "new", "--workbook", book);

        Assert.Equal(1, run.Exit);
        Assert.Contains("is there already", run.Err, StringComparison.Ordinal);
        Assert.Equal("filled in", File.ReadAllText(book));
    }

    [Fact]
    public void Where_to_write_must_be_said() => Assert.Equal(2, Typed.Run("sheets", "demo").Exit);

    private (SeasonTables? Tables, ImmutableArray<Problem> Problems) ThroughFile(SeasonTables season)
    {
        var path = Path.Combine(folder, Guid.NewGuid().ToString("N") + ".xlsx");
        File.WriteAllBytes(path, Bytes(season));
        return SeasonWorkbookReader.Read(path, TestContext.Current.CancellationToken);
    }

    private static byte[] Bytes(SeasonTables season)
    {
        var read = SeasonReading.Read(season, out var wrong);
        Assert.True(read is not null, string.Join('\n', wrong.Select(p => p.Place + " " + Catalogue.English.Say(p.What))));
        using var stream = new MemoryStream();
        Assert.Empty(SeasonWorkbookWriter.Write(season, read, Catalogue.English, stream));
        return stream.ToArray();
    }

    /// <summary>An invented season, some columns taken out, some rows too, strange texts in its notes and in columns of its own, odd settings, other files.</summary>
    private static Gen<SeasonTables> Strange() =>
        from seed in Gen.Choose(1, 50)
        from drop in Gen.Choose(0, 4)
        from column in Texts().Where(t => t.Trim().Length > 0 && !t.Contains('\u001F', StringComparison.Ordinal))
        from notes in Texts().ArrayOf(40)
        from setting in Texts()
        from name in Texts().Where(t => t.Length > 0)
        from file in Texts()
        let season = DemoSeason.Write((ulong)seed)
        select season with
        {
            Tables = [.. season.Tables.Where((t, i) => t.Kind.IsRequired || i % 5 != drop).Select(t => With(t, drop, column, notes))],
            Texts = season.Texts.SetItem("changes.jsonl", file),
            Package = season.Package with
            {
                Season = [.. season.Package.Season.Where(p => p.Name != "comment"), new JsonProperty("comment", Json(setting)), new JsonProperty("of one's own " + name, Json(setting)), new JsonProperty("odd", "[1.50,{\"a\":null}]"), new JsonProperty("exact", "0.250")],
                Package = [.. season.Package.Package, new JsonProperty("x " + name, Json(name)), new JsonProperty("y", "true"), new JsonProperty("z", "null")],
            },
        };

    private static RecordTable With(RecordTable table, int drop, string column, string[] notes)
    {
        var note = table.Columns.IndexOf("note");
        var rows = table.Rows.Take(60).Select((r, i) => new RecordRow(i + 2, [.. r.Cells.Select((c, k) => k == note ? notes[i % notes.Length] : c), notes[(i + drop) % notes.Length]])).ToImmutableArray();
        // Rows of a line that was cut off have no nest to stand at.
        if (table.Kind.IsRequired || table.Kind == RecordKind.Crew || table.Kind == RecordKind.Events) rows = [.. table.Rows.Select((r, i) => new RecordRow(i + 2, [.. r.Cells.Select((c, k) => k == note ? notes[i % notes.Length] : c), notes[(i + drop) % notes.Length]]))];
        return new RecordTable(table.Kind, [.. table.Columns, column], rows);
    }

    private static string Json(string text) => System.Text.Json.JsonSerializer.Serialize(text);

    /// <summary>Texts of everyday signs and of those that a workbook could stumble over: escapes of the format, signs that XML forbids, formulas, numbers, halves of pairs never.</summary>
    private static Gen<string> Texts() => Gen.Elements("a", "Z", "7", "007", "1e5", "2026-05-14", "18:30", " ", ",", "\"", "\n", "\r", "\r\n", "\t", "é", "🦡", "\uFEFF", "=1+1", "'", "_x000D_", "_x", "\u0001", "\u001F", "\uFFFE", "<", "&", "]]>", "(a)", "json:", "true").ListOf().Select(string.Concat);
}
