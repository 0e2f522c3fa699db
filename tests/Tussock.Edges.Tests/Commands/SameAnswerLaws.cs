using Tussock.Edges.Tests.Store;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>A folder, its import and the export of its import give the same answer, byte for byte.</summary>
public abstract class SameAnswerLaws(DataKind kind)
{
    /// <summary>Folders whose answer is compared; the ten thousand nests only in long runs, the store's own tests hold their rows equal.</summary>
    public static TheoryData<string> Folders =>
    [
        .. PlainFolder.ReferenceFolders().Where(f => Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1" || !f.Contains("10k", StringComparison.Ordinal)).Select(f => Path.GetRelativePath(Checks.Tests, f)),
        .. Corpus.Names("scenes").Select(n => Path.Combine("corpus", "scenes", n)),
    ];

    [Theory]
    [MemberData(nameof(Folders))]
    public void A_kept_season_answers_the_same_from_folder_data_file_and_export(string folder) => Holds(Path.Combine(Checks.Tests, folder));

    [Theory]
    [InlineData("1")]
    [InlineData("2")]
    [InlineData("3")]
    public void An_invented_season_answers_the_same_from_folder_data_file_and_export(string seed)
    {
        using var scratch = new ScratchFolder();
        Typed.Done("demo", scratch.At("demo"), "--seed", seed);
        Holds(scratch.At("demo"));
    }

    [Fact]
    public void The_built_in_season_is_the_one_of_seed_1()
    {
        using var scratch = new ScratchFolder();
        Typed.Done("demo", scratch.At("demo"), "--seed", "1");

        Assert.Equal(Typed.ResultsText(scratch.At("demo")), Typed.ResultsText("demo"));
    }

    private void Holds(string folder)
    {
        using var scratch = new ScratchFolder();
        var answer = Typed.ResultsText(folder);
        Assert.Empty(Contract.Breaches(Typed.Json(answer)));
        using var data = TestData.Of(kind);
        using var other = data.Another();
        Typed.Done("import", data.Data, folder, "--as", "crew 1");
        Assert.Equal(answer, Typed.ResultsText(data.Data));
        Typed.Done("export", data.Data, scratch.At("back"));
        Assert.Equal(answer, Typed.ResultsText(scratch.At("back")));
        Typed.Done("import", other.Data, scratch.At("back"), "--as", "crew 1");
        Assert.Contains("Nothing to do", Typed.Done("import", other.Data, scratch.At("back")).Out, StringComparison.Ordinal);
        Assert.Contains("The file is whole", Typed.Done("check", other.Data).Out, StringComparison.Ordinal);
    }
}

/// <summary>The same in a file.</summary>
public class SameAnswerFileLaws() : SameAnswerLaws(DataKind.File);

/// <summary>The same on a server.</summary>
public class SameAnswerServerLaws() : SameAnswerLaws(DataKind.Server);
