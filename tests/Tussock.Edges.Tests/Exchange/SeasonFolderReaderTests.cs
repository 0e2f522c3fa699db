using System.Text;
using Tussock.Exchange.Reading;
using Tussock.Exchange.SeasonFolder;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Exchange;

/// <summary>What can't lie in the corpus: links, sparse files, other encodings, limits.</summary>
public sealed class SeasonFolderReaderTests : IDisposable
{
    private static readonly string Whole = Path.Combine(Corpus.Folder("broken/000-whole"), "season");
    private readonly ScratchFolder scratch = new();

    public void Dispose() => scratch.Dispose();

    [Fact]
    public void A_folder_may_be_named_by_its_description()
    {
        var (season, problems) = SeasonFolderReader.ReadSeason(Path.Combine(Whole, "datapackage.json"), TestContext.Current.CancellationToken);

        Assert.Empty(problems);
        Assert.Equal(4, season!.Nests.Length);
    }

    [Fact]
    public void A_folder_that_is_not_there_is_said_so()
    {
        Assert.Equal(["no_folder"], Rules(scratch.At("nowhere")));
        Assert.Equal(["no_folder"], Rules(Path.Combine(Whole, "visits.csv")));
    }

    [Fact]
    public void The_line_of_a_row_behind_a_cell_with_line_ends_is_that_of_the_file()
    {
        var visits = SeasonFolderReader.Read(Whole, TestContext.Current.CancellationToken).Tables!.Table(Records.RecordKind.Visits)!;

        Assert.Equal([2, 3, 5, 6, 7, 8, 9], visits.Rows.Select(r => r.Line));
        Assert.Equal("shell in the bowl,\nyolk beside it", visits.Rows[1].Cells[^1]);
    }

    [Fact]
    public void Equal_texts_of_a_column_are_one_object()
    {
        var visits = SeasonFolderReader.Read(Whole, TestContext.Current.CancellationToken).Tables!.Table(Records.RecordKind.Visits)!;

        Assert.Same(visits.Rows[0].Cells[3], visits.Rows[4].Cells[3]);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Unicode_text_of_two_bytes_a_character_is_refused_by_name(bool bigEndian)
    {
        var folder = scratch.Copy(Whole, "season");
        File.WriteAllText(Path.Combine(folder, "nests.csv"), "transect,nest,cover\nT1,1,bunchgrass\n", new UnicodeEncoding(bigEndian, true));
        File.WriteAllText(Path.Combine(folder, "datapackage.json"), "{}", new UnicodeEncoding(bigEndian, true));

        Assert.Equal(["datapackage.json:1 utf16", "nests.csv:1 utf16"], Places(folder));
    }

    [Fact]
    public void An_unclosed_quote_in_a_sparse_file_of_2_GB_is_told_without_reading_it_whole()
    {
        var folder = scratch.Copy(Whole, "season");
        using (var file = File.Create(Path.Combine(folder, "visits.csv")))
        {
            file.Write("transect,nest,visited_on,finding\nT1,1,2024-05-20,intact\nT1,2,2024-05-20,\"inta"u8);
            file.SetLength(2L << 30);
        }

        var before = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal(["visits.csv: file_too_long", "visits.csv:3 unclosed_quote", "visits.csv:3 zero_byte"], Places(folder).Order());
        Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 32 << 20);
    }

    [Fact]
    public void An_unclosed_quote_is_not_followed_beyond_the_limit_of_a_row()
    {
        var folder = scratch.Copy(Whole, "season");
        File.WriteAllText(Path.Combine(folder, "visits.csv"), "transect,nest,visited_on,finding,note\nT1,1,2024-05-20,intact,\"x" + string.Concat(Enumerable.Repeat("more and more\n", 100_000)) + "\"\n");

        Assert.Equal(["visits.csv:2 unclosed_quote"], Places(folder));
    }

    [Fact]
    public void A_row_without_an_end_is_not_followed_beyond_its_limit()
    {
        var folder = scratch.Copy(Whole, "season");
        File.WriteAllText(Path.Combine(folder, "visits.csv"), "transect,nest,visited_on,finding\nT1,1,2024-05-20,intact\n" + new string('x', 2_000_000));

        Assert.Equal(["visits.csv:3 row_too_long"], Places(folder));
    }

    [Theory]
    [InlineData(3, 512L << 20, "too_many_rows")]
    [InlineData(100, 150L, "file_too_long")]
    public void Rows_and_bytes_of_a_file_are_bounded(int rows, long bytes, string rule)
    {
        var (season, problems) = SeasonFolderReader.ReadSeason(Whole, new CsvLimits { Rows = rows, FileBytes = bytes }, TestContext.Current.CancellationToken);

        Assert.Null(season);
        Assert.Contains(problems, p => p.Rule == rule && p.Place.File == "visits.csv");
    }

    [Fact]
    public void A_header_of_thousands_of_columns_is_refused()
    {
        var folder = scratch.Copy(Whole, "season");
        File.WriteAllText(Path.Combine(folder, "visits.csv"), string.Join(',', Enumerable.Range(0, 3000)) + "\n");

        Assert.Equal(["visits.csv:1 too_many_columns"], Places(folder));
    }

    [Fact]
    public void The_first_problems_of_a_file_are_told_and_the_others_counted()
    {
        var folder = scratch.Copy(Whole, "season");
        File.WriteAllText(Path.Combine(folder, "remains.csv"), "transect,nest,visited_on,sign\n" + string.Concat(Enumerable.Repeat("T1,2\n", 500)));

        var (_, problems) = SeasonFolderReader.Read(folder, TestContext.Current.CancellationToken);

        Assert.Equal(201, problems.Length);
        Assert.Equal("There are 300 more problems in this file", Catalogue.English.Say(problems[^1].What));
    }

    [Theory]
    [InlineData("/etc/hostname", "visits.csv")]
    [InlineData("../elsewhere.csv", "visits.csv")]
    [InlineData("visits.csv", "visits.csv")]
    [InlineData("nowhere.csv", "visits.csv")]
    [InlineData("/dev/zero", "pastures.geojson")]
    public void A_link_that_leaves_the_folder_or_leads_nowhere_is_not_followed(string target, string file)
    {
        var folder = scratch.Copy(Whole, "season");
        File.WriteAllText(scratch.At("elsewhere.csv"), "transect,nest,visited_on,finding\n");
        File.Delete(Path.Combine(folder, file));
        File.CreateSymbolicLink(Path.Combine(folder, file), target);

        var (tables, problems) = SeasonFolderReader.Read(folder, TestContext.Current.CancellationToken);

        Assert.Null(tables);
        Assert.All(problems, p => Assert.Contains(p.Rule, (string[])["link_outside", "path_link", "resource_absent", "unreadable", "file_missing"]));
    }

    [Fact]
    public void A_linked_folder_that_leads_outside_is_not_followed()
    {
        var folder = scratch.Copy(Whole, "season");
        Directory.CreateSymbolicLink(Path.Combine(folder, "sub"), scratch.Folder);
        File.WriteAllText(scratch.At("secret.csv"), "a\n");
        var description = File.ReadAllText(Path.Combine(folder, "datapackage.json"));
        File.WriteAllText(Path.Combine(folder, "datapackage.json"), description.Replace("\"resources\": [", "\"resources\": [ {\"name\": \"s\", \"path\": \"sub/secret.csv\"},", StringComparison.Ordinal));

        Assert.Equal(["datapackage.json: path_link"], Places(folder));
    }

    [Fact]
    public void A_link_inside_the_folder_is_followed()
    {
        var folder = scratch.Copy(Whole, "season");
        File.Move(Path.Combine(folder, "visits.csv"), Path.Combine(folder, "visits-of-may.txt"));
        File.CreateSymbolicLink(Path.Combine(folder, "visits.csv"), "visits-of-may.txt");

        Assert.Empty(Rules(folder));
    }

    [Fact]
    public void A_pipe_is_not_waited_for()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no pipes in folders");
        var folder = scratch.Copy(Whole, "season");
        File.Delete(Path.Combine(folder, "visits.csv"));
        using var make = System.Diagnostics.Process.Start("mkfifo", [Path.Combine(folder, "visits.csv")]);
        make.WaitForExit();

        Assert.Equal(["visits.csv: empty_file"], Places(folder));
    }

    [Fact]
    public void A_directory_in_the_place_of_a_file_is_told()
    {
        var folder = scratch.Copy(Whole, "season");
        File.Delete(Path.Combine(folder, "visits.csv"));
        Directory.CreateDirectory(Path.Combine(folder, "visits.csv"));

        Assert.Equal(["visits.csv: unreadable"], Places(folder));
    }

    [Fact]
    public void Reading_can_be_cancelled() =>
        Assert.Throws<OperationCanceledException>(() => SeasonFolderReader.Read(Whole, new CancellationToken(true)));

    private static IEnumerable<string> Rules(string folder) => SeasonFolderReader.ReadSeason(folder, TestContext.Current.CancellationToken).Problems.Select(p => p.Rule);

    private static IEnumerable<string> Places(string folder) =>
        SeasonFolderReader.ReadSeason(folder, TestContext.Current.CancellationToken).Problems.Select(p => $"{p.Place.File}:{p.Place.Line} {p.Rule}");
}
