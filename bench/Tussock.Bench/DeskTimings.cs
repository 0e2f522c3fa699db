using System.Diagnostics;
using System.Globalization;
using Tussock.Desk;
using Tussock.Edges.Tests.Serving;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Reports.Technical;
using Tussock.Results;
using Tussock.Review;
using Tussock.Store;
using Tussock.Words;

namespace Tussock.Bench;

/// <summary>What the desk does in the background and for a page, on a season of 60,000 nests.</summary>
internal static class DeskTimings
{
    internal static void Run(int lines)
    {
        var folder = Directory.CreateTempSubdirectory("tussock-bench-").FullName;
        try
        {
            Console.WriteLine("task,seconds");
            var path = Path.Combine(folder, "large.db");
            var file = DataFile.OpenToWrite(path);
            Once("import", () => file.Import(new ImportRequest { Season = ManyNests.Of("large", lines, 40, 1), By = "bench", Now = DateTimeOffset.UnixEpoch.AddYears(56) }));
            KeptSeason? kept = null;
            Once("reading the file", () => kept = file.Keep("large"));
            var visits = kept!.Kept.Tables.Table(RecordKind.Visits)!;
            file.Write(kept.Id, [new Draft(visits.Kind.Name, Guid.Parse(visits.Rows[5000].Cells[visits.IndexOf("id")]), ChangeOp.Set, [new FieldChange("note", "seen", [])])], "bench", DateTimeOffset.UnixEpoch.AddYears(56));
            Once("one change into the kept tables", () => kept = file.Newer(kept, "large"));
            var tables = kept.Kept.Tables;
            Season? season = null;
            Once("reading the season", () => season = SeasonReading.Read(tables, out _));
            var today = new DateOnly(2026, 6, 10);
            Once("findings", () => Inspector.Findings(season!, today));
            Once("progress", () => SeasonProgress.Of(season!, today));
            SeasonResults? results = null;
            Once("results", () => results = SeasonResults.Of(season!));
            ReportNumbers? numbers = null;
            Once("numbers", () => numbers = ReportNumbers.Of(results!));
            file.Write(kept.Id, [new Draft(visits.Kind.Name, Guid.Parse(visits.Rows[5000].Cells[visits.IndexOf("id")]), ChangeOp.Set, [new FieldChange("finding", visits.Rows[5000].Cells[visits.IndexOf("finding")] == "intact" ? "depredated" : "intact", [])])], "bench", DateTimeOffset.UnixEpoch.AddYears(56));
            kept = file.Newer(kept, "large");
            var edited = SeasonReading.Read(kept.Kept.Tables, out _)!;
            SeasonResults? again = null;
            Once("results after one edit", () => again = SeasonResults.Of(edited, before: results));
            Once("numbers after one edit", () => ReportNumbers.Of(again!, numbers, default));
            var answer = new DeskAnswer { Position = kept.At.Position, SeasonAt = kept.At.Position, ReadOf = tables, SeasonId = kept.Id, Title = "large", Tables = tables, Season = season, Today = today, Results = results, Numbers = numbers, ResultsAt = kept.At.Position };
            Once("map", () => MapText.Of(answer));
            foreach (var asked in (TableAsked[])[new("", "", false, 1), new("T12", "", false, 1), new("", "finding", true, 1), new("crew 2", "visited_on", false, 7)]) Once($"rows with “{asked.Text}” by “{asked.Sort}”", () => ShownRows.Of(tables.Table(RecordKind.Visits)!, asked));
            foreach (var chapter in TechnicalReport.ChapterKeys.Select(TechnicalReport.Anchor)) Once("chapter " + chapter, () => ChapterText.Of(chapter, numbers!, new ReportMaking("bench", 1, today, 1), Catalogue.English));
            Once("is there anything new, 100 times", () => { for (var n = 0; n < 100; n++) _ = file.Last; });
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"memory in use,{GC.GetTotalMemory(true) / 1e6:F0} MB"));
            GC.KeepAlive(answer);
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
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{task.Replace(',', ' ')},{watch.Elapsed.TotalSeconds:F3}"));
    }
}
