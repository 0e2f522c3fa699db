// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Diagnostics;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Runtime.CompilerServices;
using Tussock.Edges.Tests.Store;
using Tussock.Records;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Faults;

/// <summary>The test program started again as one that imports, to be killed.</summary>
internal static class ImportChild
{
    internal const string Variable = "TUSSOCK_TEST_IMPORT_INTO";
    internal const int Nests = 2000;

    internal static SeasonTables Second => PlainFolder.Invented("second", Nests);

    [ModuleInitializer]
    [SuppressMessage("Usage", "CA2255", Justification = "The test program's own entry point is made by the test library; this runs before it.")]
    internal static void RunIfChild()
    {
        if (Environment.GetEnvironmentVariable(Variable) is not { Length: > 0 } path) return;
        var season = Second;
        Console.WriteLine("ready");
        DataFile.OpenToWrite(path).Import(new ImportRequest { Season = season, By = "child", Now = DateTimeOffset.UnixEpoch.AddYears(54) });
        Console.WriteLine("done");
        Environment.Exit(0);
    }
}

/// <remarks>A database is slower to make than a file: on a server every ninth statement and fewer kills, all of them with TUSSOCK_LONG=1.</remarks>
public abstract class ImportFaults(DataKind kind)
{
    private readonly int stride = kind == DataKind.File || Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1" ? 1 : 9;

    private static readonly SeasonTables First = PlainFolder.Invented("first", 6);

    private static ImportOutcome Import(string path, SeasonTables season, Action<string>? before = null, bool apply = false) =>
        DataFile.OpenToWrite(path, before).Import(new ImportRequest { Season = season, By = "Ann", Now = DateTimeOffset.UnixEpoch.AddYears(54), Apply = apply });

    [Fact]
    public void An_import_that_fails_at_any_statement_leaves_all_or_nothing()
    {
        using var whole = TestData.Of(kind);
        Import(whole.Data, First);
        var edited = First.With(RecordKind.Nests, 3, "eggs", "1").Without(RecordKind.Visits, 2);
        var before = DataFile.OpenToRead(whole.Data).Tables("first").Text(withId: true);
        var count = 0;
        using (var counting = whole.Copied())
        {
            Import(counting.Data, Both(edited), _ => count++, apply: true);
        }

        Assert.True(count > 20, "statements: " + count);
        for (var n = 1; n <= count; n += stride)
        {
            using var scratch = whole.Copied();
            Assert.Throws<IOException>(() => Import(scratch.Data, Both(edited), FailAt(n), apply: true));
            var file = DataFile.OpenToRead(scratch.Data);
            Assert.Empty(file.Check());
            Assert.Equal(before, file.Tables("first").Text(withId: true));
        }
    }

    [Fact]
    public void A_file_whose_making_fails_at_any_statement_is_whole_or_not_there()
    {
        var tiny = PlainFolder.Invented("tiny", 1, visitsANest: 1);
        var count = 0;
        using (var counting = TestData.Of(kind)) Import(counting.Data, tiny, _ => count++);
        for (var n = 1; n <= count; n += stride)
        {
            using var scratch = TestData.Of(kind);
            Assert.Throws<IOException>(() => Import(scratch.Data, tiny, FailAt(n)));
            Assert.Empty(scratch.Others);
            if (scratch.State.Length == 0) continue;
            var file = DataFile.OpenToRead(scratch.Data);
            Assert.Empty(file.Seasons());
            Assert.Empty(file.Check());
            Assert.Equal(ImportEnd.Done, Import(scratch.Data, tiny).End);
        }
    }

    [Fact]
    public void A_child_that_is_killed_at_a_random_moment_leaves_all_or_nothing()
    {
        using var whole = TestData.Of(kind);
        Import(whole.Data, First);
        var first = DataFile.OpenToRead(whole.Data).Tables("first").Text(withId: true);
        var second = ImportChild.Second.Text(withId: false);
        var full = TimeToImport(whole);
        var random = new Random(20240506);
        int complete = 0, nothing = 0;
        for (var n = 0; n < 50; n += stride)
        {
            using var scratch = whole.Copied();
            using (var child = Started(scratch.Data))
            {
                Thread.Sleep(full * random.NextDouble() * 1.1);
                child.Kill();
                child.WaitForExit();
            }

            var file = DataFile.OpenToRead(scratch.Data);
            Assert.Empty(file.Check());
            Assert.Equal(first, file.Tables("first").Text(withId: true));
            if (file.Seasons().Length == 1)
            {
                nothing++;
                continue;
            }

            complete++;
            Assert.Equal(second, file.Tables("second").Text(withId: false));
        }

        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(CultureInfo.InvariantCulture, $"import takes {full.TotalMilliseconds:F0} ms; killed: {complete} times all there, {nothing} times nothing"));
        Assert.True(nothing > 0, "The child was never killed in time");
    }

    private static SeasonTables Both(SeasonTables edited)
    {
        // A season of more rows, so that the batch has creations, changes of values and a new order of events.
        var more = PlainFolder.Invented("first", 8);
        return edited with { Tables = edited.Tables.Replace(edited.Table(RecordKind.Transects)!, more.Table(RecordKind.Transects)!) };
    }

    private static Action<string> FailAt(int n)
    {
        var count = 0;
        return statement =>
        {
            if (++count == n) throw new IOException("No more at " + statement);
        };
    }

    private static TimeSpan TimeToImport(TestData from)
    {
        using var scratch = from.Copied();
        using var child = Started(scratch.Data);
        var clock = Stopwatch.StartNew();
        child.StandardOutput.ReadToEnd();
        child.WaitForExit();
        Assert.Equal(0, child.ExitCode);
        return clock.Elapsed;
    }

    private static Process Started(string path)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!) { RedirectStandardOutput = true, UseShellExecute = false };
        if (Path.GetFileNameWithoutExtension(Environment.ProcessPath) == "dotnet") start.ArgumentList.Add(typeof(ImportChild).Assembly.Location);
        start.Environment[ImportChild.Variable] = path;
        var child = Process.Start(start)!;
        Assert.Equal("ready", child.StandardOutput.ReadLine());
        return child;
    }
}

/// <summary>The same in a file.</summary>
public sealed class ImportFileFaults() : ImportFaults(DataKind.File);

/// <summary>The same on a server.</summary>
public sealed class ImportServerFaults() : ImportFaults(DataKind.Server);
