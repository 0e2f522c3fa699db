using System.Diagnostics;
using System.Globalization;
using Tussock.Edges.Tests.Store;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Tussock.Simulation;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>The program as a process of its own: what a shell sees, and what is left when it is killed.</summary>
public sealed class RealProcessTests : IDisposable
{
    private const int Copies = 22;
    private readonly ScratchFolder scratch = new();

    public void Dispose() => scratch.Dispose();

    private static Process Start(params string[] args)
    {
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true };
        start.ArgumentList.Add(typeof(App.Commands.Tree).Assembly.Location);
        foreach (var arg in args) start.ArgumentList.Add(arg);
        return Process.Start(start)!;
    }

    private static (int Exit, string Out, string Err) Ended(Process process)
    {
        using (process)
        {
            var error = process.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            return (process.ExitCode, output, error.GetAwaiter().GetResult());
        }
    }

    [Fact]
    public void A_process_says_the_same_as_the_program_inside_a_test()
    {
        var folder = Corpus.Folder("scenes/washer");

        Assert.Equal((0, Typed.ResultsText(folder), ""), Ended(Start("results", folder, "--json", "--fates", "--at", Typed.At)));
        Assert.Equal((0, Typed.Done("quick", "5/6 4/6 3/6 1/6").Out, ""), Ended(Start("quick", "5/6 4/6 3/6 1/6")));
        Assert.Equal(2, Ended(Start("frobnicate")).Exit);
        Assert.Equal(1, Ended(Start("results", scratch.At("nowhere"))).Exit);
    }

    /// <summary>Few moments here; the store's own faults hold many. All of them with TUSSOCK_LONG=1.</summary>
    [Fact]
    public void An_import_that_is_killed_leaves_all_of_a_season_or_nothing()
    {
        var folder = scratch.At("many");
        Assert.Empty(SeasonFolderWriter.Write(Replicated(), folder, overwrite: false, TestContext.Current.CancellationToken));
        Typed.Done("import", scratch.At("begun.db"), Corpus.Folder("scenes/tailgate"));
        var before = Typed.ResultsText(scratch.At("begun.db"));
        var full = TimeToImport(folder);
        var random = new Random(20240506);
        var kills = Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1" ? 50 : 6;
        var nothing = 0;
        for (var n = 0; n < kills; n++)
        {
            var data = scratch.At(string.Create(CultureInfo.InvariantCulture, $"killed{n}.db"));
            File.Copy(scratch.At("begun.db"), data);
            using (var process = Start("import", data, folder))
            {
                Thread.Sleep(full * (0.3 + (0.8 * random.NextDouble())));
                // A machine that has become faster, or slower, since the time was taken: the moments follow it.
                full *= process.HasExited ? 0.7 : 1.05;
                process.Kill();
                process.WaitForExit();
            }

            Assert.Equal(0, Typed.Run("check", data).Exit);
            Assert.Equal(before, Typed.ResultsText(data, "--season", "tailgate"));
            var exported = Typed.Run("export", data, scratch.At(string.Create(CultureInfo.InvariantCulture, $"out{n}")), "--season", "many");
            if (exported.Exit == 1) nothing++;
            else Assert.Equal(0, exported.Exit);
            if (exported.Exit == 0) Assert.Contains("Nothing to do", Typed.Done("import", data, folder).Out, StringComparison.Ordinal);
        }

        Assert.True(nothing > 0, "the import was never killed in time");
    }

    private TimeSpan TimeToImport(string folder)
    {
        File.Copy(scratch.At("begun.db"), scratch.At("whole.db"));
        var clock = Stopwatch.StartNew();
        Assert.Equal(0, Ended(Start("import", scratch.At("whole.db"), folder)).Exit);
        return clock.Elapsed;
    }

    /// <summary>About 3,000 nests: the demo many times over, each time on transects of other names.</summary>
    private static SeasonTables Replicated()
    {
        var demo = DemoSeason.Write(1);
        RecordTable Many(RecordTable table)
        {
            var transect = table.IndexOf("transect");
            if (transect < 0) return table;
            var id = table.IndexOf("id");
            var rows = Enumerable.Range(0, Copies).SelectMany(copy => table.Rows.Select(r => r with
            {
                Cells = (id < 0 ? r.Cells : r.Cells.SetItem(id, "")).SetItem(transect, r.Cells[transect].Length == 0 ? "" : r.Cells[transect] + "-" + copy.ToString(CultureInfo.InvariantCulture)),
            }));
            return table with { Rows = [.. rows.Select((r, i) => r with { Line = i + 2 })] };
        }

        var many = demo with { Tables = [.. demo.Tables.Where(t => t.Kind != RecordKind.Events).Select(Many)] };
        return many with { Package = many.Package with { Season = [.. many.Package.Season.Select(p => p.Name == "name" ? p with { Json = "\"many\"" } : p)] } };
    }
}
