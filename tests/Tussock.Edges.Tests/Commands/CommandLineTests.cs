using System.Text.Json;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>How the program behaves on a command line: exit codes, where it says what, and what it leaves alone.</summary>
public sealed class CommandLineTests : IDisposable
{
    /// <summary>Bytes and export of a data file that holds one season.</summary>
    private static readonly Lazy<(byte[] Bytes, string[] Export)> LazyBegun = new(() =>
    {
        using var begun = new ScratchFolder();
        Typed.Done("import", begun.At("season.db"), Corpus.Folder("scenes/tailgate"));
        Typed.Done("export", begun.At("season.db"), begun.At("export"));
        return (File.ReadAllBytes(begun.At("season.db")), Texts(begun.At("export")));
    });

    private readonly ScratchFolder scratch = new();

    public static TheoryData<string> Broken => [.. Corpus.Names("broken")];

    private string Data => scratch.At("season.db");

    public void Dispose() => scratch.Dispose();

    private string Scene(string name) => scratch.Copy(Corpus.Folder("scenes/" + name), name);

    private static void Write(string folder, string file, string from, string to)
    {
        var path = Path.Combine(folder, file);
        File.WriteAllText(path, File.ReadAllText(path).Replace(from, to, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("frobnicate", "frobnicate")]
    [InlineData("results", "DATA")]
    [InlineData("results demo --at yesterday", "2026-06-30T12:00:00Z")]
    [InlineData("results demo --certainty 2", "0.85")]
    [InlineData("results demo --seed many", "--seed")]
    [InlineData("results demo --colour", "--colour")]
    [InlineData("import", "DATA")]
    [InlineData("import season.db", "SOURCE")]
    [InlineData("inspect demo --today tomorrow", "--today")]
    [InlineData("quick", "lines")]
    public void Wrong_usage_ends_with_2_and_says_what_on_standard_error(string typed, string said)
    {
        var run = Typed.Run(typed.Split(' '));

        Assert.Equal((2, ""), (run.Exit, run.Out));
        Assert.Contains(said, run.Err, StringComparison.Ordinal);
        Assert.Contains("--help", run.Err, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("quick 7/6", "7/6")]
    [InlineData("quick 5/6 --clumps 12", "--area")]
    [InlineData("results no-such-place", "no-such-place")]
    [InlineData("inspect no-such-place", "no-such-place")]
    [InlineData("check no-such-place", "no-such-place")]
    [InlineData("export no-such-place elsewhere", "no-such-place")]
    [InlineData("import season.db no-such-place", "no-such-place")]
    public void A_request_that_cannot_be_met_ends_with_1_and_a_sentence(string typed, string said)
    {
        var run = Typed.Run(typed.Split(' '));

        Assert.Equal(1, run.Exit);
        Assert.Contains(said, run.Err + run.Out, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", run.Err, StringComparison.Ordinal);
        Assert.False(File.Exists("season.db"));
    }

    [Fact]
    public void Json_is_one_document_and_nothing_else()
    {
        foreach (var args in new string[][] { ["results", "demo", "--json"], ["inspect", "demo", "--json"], ["inspect", Corpus.Folder("broken/045-unknown-finding/season"), "--json"] })
        {
            var text = Typed.Run(args).Out;
            using var document = JsonDocument.Parse(text);
            Assert.Equal('{', text[0]);
            Assert.EndsWith("}", text.TrimEnd(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void What_stops_an_import_is_said_with_file_and_line_and_nothing_is_written()
    {
        var folder = Scene("tailgate");
        Write(folder, "visits.csv", "2,3,28,intact", "2,3,-28,intact");

        var run = Typed.Run("import", Data, folder);

        Assert.Equal((1, ""), (run.Exit, run.Out));
        Assert.Contains("visits.csv:10 day: ", run.Err, StringComparison.Ordinal);
        Assert.Contains("Nothing was changed.", run.Err, StringComparison.Ordinal);
        Assert.False(File.Exists(Data));
    }

    [Fact]
    public void A_preview_lists_and_writes_nothing()
    {
        var run = Typed.Done("import", Data, Scene("tailgate"), "--preview");

        Assert.Contains("24 new", run.Out, StringComparison.Ordinal);
        Assert.Contains("nothing was written", run.Out, StringComparison.Ordinal);
        Assert.False(File.Exists(Data));
    }

    [Fact]
    public void Stored_values_change_only_when_it_is_asked_for()
    {
        var folder = Scene("tailgate");
        Typed.Done("import", Data, folder);
        var before = File.ReadAllBytes(Data);
        Assert.Contains("Nothing to do", Typed.Done("import", Data, folder).Out, StringComparison.Ordinal);
        Write(folder, "visits.csv", "4,2,28,depredated", "4,2,28,intact");

        var asked = Typed.Run("import", Data, folder);
        Assert.Equal(1, asked.Exit);
        Assert.Contains("--apply", asked.Err, StringComparison.Ordinal);
        Assert.Contains("“depredated”, folder “intact”", asked.Err, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(Data));

        Typed.Done("import", Data, folder, "--apply");
        Assert.Equal(14, Typed.Results(Data).Group("season").Number("intact"));
        Assert.Equal(0, Typed.Run("check", Data).Exit);
    }

    [Fact]
    public void Rows_that_are_missing_go_only_with_remove_missing()
    {
        var folder = Scene("tailgate");
        Typed.Done("import", Data, folder);
        Write(folder, "visits.csv", "4,6,28,depredated,crew 1\n", "");

        Typed.Run("import", Data, folder);
        Assert.Equal(24, Typed.Results(Data).Group("season").Number("fate_known"));
        Typed.Done("import", Data, folder, "--remove-missing", "--apply");
        Assert.Equal(23, Typed.Results(Data).Group("season").Number("fate_known"));
    }

    [Fact]
    public void Several_seasons_are_listed_until_one_is_named()
    {
        Typed.Done("import", Data, Scene("tailgate"));
        Typed.Done("import", Data, Scene("washer"));

        var run = Typed.Run("results", Data, "--json");
        Assert.Equal((1, ""), (run.Exit, run.Out));
        foreach (var said in new[] { "tailgate", "washer", "--season" }) Assert.Contains(said, run.Err, StringComparison.Ordinal);
        var other = Typed.Run("results", Data, "--season", "road-out");
        Assert.Equal(1, other.Exit);
        Assert.Contains("road-out", other.Err, StringComparison.Ordinal);
        Assert.Equal(Typed.ResultsText(Corpus.Folder("scenes/washer")), Typed.ResultsText(Data, "--season", "washer"));
    }

    [Theory]
    [MemberData(nameof(Broken))]
    public void A_broken_folder_leaves_the_data_as_they_were(string name)
    {
        var (before, export) = LazyBegun.Value;
        File.WriteAllBytes(Data, before);

        var run = Typed.Run("import", Data, Path.Combine(Corpus.Folder("broken/" + name), "season"));

        Assert.True(run.Exit is 0 or 1, "exit " + run.Exit + ": " + run.Err);
        if (run.Exit == 1)
        {
            Assert.Equal(before, File.ReadAllBytes(Data));
            return;
        }

        Typed.Done("export", Data, scratch.At("after"), "--season", "tailgate");
        Assert.Equal(export, Texts(scratch.At("after")));
    }

    [Fact]
    public void Same_input_same_bytes()
    {
        Assert.Equal(Typed.ResultsText("demo"), Typed.ResultsText("demo"));
        Assert.NotEqual(Typed.ResultsText("demo"), Typed.Done("results", "demo", "--json", "--fates", "--at", "2024-07-02").Out);
        Assert.Equal(Typed.Done("results", "demo").Out, Typed.Done("results", "demo").Out);
    }

    private static string[] Texts(string folder) => [.. Directory.GetFiles(folder).Order(StringComparer.Ordinal).Select(f => Path.GetFileName(f) + "\n" + File.ReadAllText(f))];
}
