using System.Diagnostics;
using System.Globalization;
using Tussock.Desk;
using Tussock.Edges.Tests.Serving;
using Tussock.Records;
using Tussock.Results;
using Tussock.Review;
using Tussock.Store;

namespace Tussock.Bench;

/// <summary>What the desk does in the background and for a page, on a season of 60,000 nests.</summary>
internal static class DeskTimings
{
    internal static void Run(int lines)
    {
        var folder = Directory.CreateTempSubdirectory("tussock-bench-").FullName;
        try
        {
            var path = Path.Combine(folder, "large.db");
            var file = DataFile.OpenToWrite(path);
            Once("import", () => file.Import(new ImportRequest { Season = ManyNests.Of("large", lines, 40, 1), By = "bench", Now = DateTimeOffset.UnixEpoch.AddYears(56) }));
            SeasonState? state = null;
            Once("states", () => state = file.States("large"));
            Once("tables", () => file.Tables("large"));
            Season? season = null;
            Once("reading", () => season = SeasonReading.Read(state!.Tables, out _));
            var today = new DateOnly(2026, 6, 10);
            Once("findings", () => Console.WriteLine("  findings: " + Inspector.Findings(season!, today).Length));
            Once("progress", () => SeasonProgress.Of(season!, today));
            SeasonResults? results = null;
            Once("results", () => results = SeasonResults.Of(season!));
            ReportNumbers? numbers = null;
            Once("numbers", () => numbers = ReportNumbers.Of(results!));
            var answer = new DeskAnswer { Position = state!.Position, SeasonId = state.Id, Title = "large", Tables = state.Tables, Records = state.Records, Season = season, Today = today, Results = results, Numbers = numbers, ResultsAt = state.Position };
            Once("map", () => Console.WriteLine("  bytes: " + MapText.Of(answer).Length));
            foreach (var asked in (TableAsked[])[new("", "", false, 1), new("T12", "", false, 1), new("", "finding", true, 1), new("crew 2", "visited_on", false, 7)]) Once("rows " + asked, () => ShownRows.Of(state.Tables.Table(RecordKind.Visits)!, asked));
            Once("conflicts", () => Console.WriteLine("  conflicts: " + answer.Conflicts.Count()));
            foreach (var key in Tussock.Reports.Technical.TechnicalReport.ChapterKeys) Once("chapter " + key, () => Console.WriteLine("  chars: " + Tussock.Reports.Technical.TechnicalReport.Chapter(Tussock.Reports.Technical.TechnicalReport.Anchor(key), numbers!, new Tussock.Reports.ReportMaking("bench", 1, today, 1), Tussock.Words.Catalogue.English).Length));
            Once("position", () => { for (var n = 0; n < 100; n++) _ = file.Position; });
            Console.WriteLine("file MB " + new FileInfo(path).Length / 1e6 + " heap MB " + GC.GetTotalMemory(true) / 1e6);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Once(string task, Action work)
    {
        var watch = Stopwatch.StartNew();
        work();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{task},{watch.Elapsed.TotalSeconds:F3}"));
    }
}
