using Tussock.App.Commands;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary><c>tussock practice</c>: a season without its truth, a conclusion, the truth, a tally; and what is refused.</summary>
public sealed class PracticeCommandTests : IDisposable
{
    private readonly string home = Directory.CreateTempSubdirectory("tussock-practice-").FullName;

    public void Dispose() => Directory.Delete(home, recursive: true);

    private string At(string name) => Path.Combine(home, name);

    private string Walked(string name = "one", params string[] more)
    {
        Typed.Done(["practice", "season", "--lines", "5", "--nests", "4", "--seed", "7", "--out", At(name), .. more]);
        return At(name);
    }

    [Fact]
    public void A_season_is_walked_read_by_every_command_concluded_about_and_opened()
    {
        var folder = Walked();
        Assert.Contains("Invented, for practice", Typed.Done("results", folder).Out, StringComparison.Ordinal);
        Typed.Done("signs", folder);
        var told = Typed.Done("practice", "open", folder, "--says", "unlikely", "--percent", "70", "--clumps", "not_settled", "--clumps-percent", "40").Out;
        Assert.Contains("The truth: survival is", told, StringComparison.Ordinal);
        Assert.Contains("below the benchmark, 70 %", told, StringComparison.Ordinal);
        Assert.Contains("With 5 transects of 4 nests: right in", told, StringComparison.Ordinal);
        Assert.Contains("With 10 transects of 4 nests: right in", told, StringComparison.Ordinal);

        // What was concluded first stands, whatever is said once the truth is known.
        var again = Typed.Done("practice", "open", folder, "--says", "likely", "--percent", "100").Out;
        Assert.Contains("below the benchmark, 70 %", again, StringComparison.Ordinal);
        Assert.Contains("opened before", again, StringComparison.Ordinal);
        Assert.Contains("Your seasons so far: 1;", Typed.Done("practice", "tally", folder, folder).Out, StringComparison.Ordinal);
        Assert.Contains("La verdad", Typed.Done("practice", "open", folder, "--language", "es").Out, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_seed_writes_the_same_files_and_without_a_seed_no_two_are_alike()
    {
        string Text(string folder) => string.Join('\n', Directory.GetFiles(folder).Order(StringComparer.Ordinal).Select(File.ReadAllText));
        Assert.Equal(Text(Walked("one")), Text(Walked("two")));
        foreach (var name in new[] { "three", "four" }) Typed.Done("practice", "season", "--out", At(name), "--no-belts");
        Assert.NotEqual(Text(At("three")), Text(At("four")));
        Assert.False(File.Exists(Path.Combine(At("three"), "belts.csv")));
    }

    [Theory]
    [InlineData(1, "no percent", "--says", "likely", "--percent", "170")]
    [InlineData(1, "less than even", "--says", "likely", "--percent", "30")]
    [InlineData(1, "go together", "--says", "likely")]
    [InlineData(1, "go together", "--says", "likely", "--percent", "60", "--clumps", "likely")]
    [InlineData(1, "Say first what you conclude")]
    [InlineData(2, "maybe", "--says", "maybe", "--percent", "60")]
    [InlineData(2, "many", "--says", "likely", "--percent", "many")]
    public void What_is_no_conclusion_opens_nothing(int exit, string said, params string[] words)
    {
        var folder = Walked();
        var end = Typed.Run(["practice", "open", folder, .. words]);
        Assert.Equal((exit, ""), (end.Exit, end.Out));
        Assert.Contains(said, end.Err, StringComparison.Ordinal);
        Assert.False(File.Exists(PracticeConclusions.In(folder)));
    }

    [Fact]
    public void A_folder_that_holds_none_or_a_broken_code_or_conclusion_is_told()
    {
        Assert.Contains("no invented season", Typed.Run("practice", "open", home, "--says", "likely", "--percent", "60").Err, StringComparison.Ordinal);
        Typed.Done("demo", At("demo"));
        Assert.Contains("no invented season", Typed.Run("practice", "open", At("demo"), "--says", "likely", "--percent", "60").Err, StringComparison.Ordinal);
        var folder = Walked();
        Assert.Contains("None of these folders", Typed.Run("practice", "tally", folder).Err, StringComparison.Ordinal);
        Assert.Contains("no belts", Typed.Run("practice", "open", Walked("no", "--no-belts"), "--says", "likely", "--percent", "60", "--clumps", "likely", "--clumps-percent", "60").Err, StringComparison.Ordinal);
        foreach (var broken in new[] { "", "{}", "[1]", "{\"survival\":{\"side\":\"likely\",\"percent\":900},\"density\":null,\"code\":\"\"}", "{\"survival\":{\"side\":7,\"percent\":\"x\"},\"density\":3,\"code\":1}" })
        {
            File.WriteAllText(PracticeConclusions.In(folder), broken);
            var end = Typed.Run("practice", "open", folder, "--says", "likely", "--percent", "60");
            Assert.Equal(1, end.Exit);
            Assert.Contains("can't be read", end.Err, StringComparison.Ordinal);
        }

        var description = Path.Combine(folder, "datapackage.json");
        File.WriteAllText(description, File.ReadAllText(description).Replace("\"practice\": \"5-", "\"practice\": \"6-", StringComparison.Ordinal));
        Assert.Contains("no code", Typed.Run("practice", "open", folder).Err, StringComparison.Ordinal);
        Assert.Equal(1, Typed.Run("practice", "season", "--lines", "31", "--out", At("large")).Exit);
        Assert.Equal(1, Typed.Run("practice", "season", "--out", folder).Exit);
    }

    /// <summary>Nobody takes an invented season for a real one: not by importing it, and not once it is there.</summary>
    [Fact]
    public void An_invented_season_comes_into_a_data_file_only_when_it_is_called_so_and_is_compared_with_none_there()
    {
        var (folder, data) = (Walked(), At("data.db"));
        Typed.Done("demo", At("demo"));
        Typed.Done("import", data, At("demo"));
        var refused = Typed.Run("import", data, folder);
        Assert.Equal(1, refused.Exit);
        Assert.Contains("for practice", refused.Err, StringComparison.Ordinal);
        Assert.DoesNotContain("practice", Typed.Done("results", data).Out, StringComparison.Ordinal);
        var alone = Typed.Done("signs", data, "--season", "invented-2026").Out;
        string Planned(string from) => Typed.Done("power", "--from", from, "--transects", "6", "--nests", "8", "--seasons", "5").Out;
        var planned = Planned(data);
        Typed.Done("import", data, folder, "--practice");
        Assert.Equal(planned, Planned(data));
        Assert.Contains("no plan is made", Typed.Run("power", "--from", folder, "--transects", "6", "--nests", "8").Err, StringComparison.Ordinal);
        Assert.Equal("invented-2026", Tussock.App.Serving.ServedSeasons.NewestFirst(Tussock.Store.DataFile.OpenToRead(data).Seasons()).First().Name);
        Assert.Equal(alone, Typed.Done("signs", data, "--season", "invented-2026").Out);
        Assert.DoesNotContain("Practice ground", Typed.Done("results", data, "--season", "all").Out, StringComparison.Ordinal);
    }

    [Fact]
    public void An_invented_season_is_not_published()
    {
        var (folder, data) = (Walked(), At("data.db"));
        Typed.Done("import", data, folder, "--practice");
        foreach (var from in new[] { folder, data })
        {
            foreach (var season in new string[][] { [], ["--season", "all"] })
            {
                var refused = Typed.Run(["export", from, At("archive"), "--as", "archive", .. from == folder && season.Length > 0 ? [] : season]);
                Assert.Equal(1, refused.Exit);
                Assert.Contains("for practice", refused.Err, StringComparison.Ordinal);
                Assert.False(Directory.Exists(At("archive")));
            }
        }

        Typed.Done("demo", At("demo"));
        Typed.Done("import", data, At("demo"));
        Typed.Done("export", data, At("archive"), "--as", "archive", "--exact", "--season", "all");
        Assert.DoesNotContain("Practice ground", File.ReadAllText(Path.Combine(At("archive"), "tables", "pastures.csv")), StringComparison.Ordinal);
    }
}
