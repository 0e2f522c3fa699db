using System.Buffers;
using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Http;
using Tussock.Desk;
using Tussock.Reports;
using Tussock.Reports.Landowner;
using Tussock.Reports.Technical;
using Tussock.Results;
using Tussock.Store.Backup;
using Tussock.Words;
using Tussock.Years;

namespace Tussock.App.Serving.Desk;

/// <summary>Reports that were made at the desk and are kept beside the data file: a folder each, whole or not at all, with the numbers they rest on.</summary>
internal sealed class DeskReports(ServedSeason served)
{
    internal const string Path = "/reports/";

    private const string About = "made.json";
    private const string ResultsFile = "results.json";
    private const string Ending = ".html";

    private string Folder => KeptReports.FolderOf(served.File.Beside(""));

    /// <summary>The kept reports of the season and those that were made before reports said which, the newest first. A folder that is none of ours is passed over.</summary>
    internal ImmutableArray<KeptReport> Kept() => !Directory.Exists(Folder) ? [] : [.. Directory.GetDirectories(Folder).Select(Read).OfType<KeptReport>().Where(r => r.Season is null || r.Season == served.Season.Name).OrderByDescending(r => r.Key, StringComparer.Ordinal)];

    /// <summary>Makes the reports of the last answer and keeps them, with the land's years up to it where they are known.</summary>
    internal void Make(DeskAnswer answer, IReadOnlyCollection<LandYears> years, string by, Catalogue words)
    {
        var numbers = answer.Numbers!;
        var making = DeskAway.Making(answer);
        var now = served.Clock.GetUtcNow();
        var pages = LandownerPages.Of(numbers, making, words, years).Add(TechnicalReport.Of(numbers, making, words));
        var results = new ArrayBufferWriter<byte>();
        ResultsDocument.Write(numbers.Results, new MadeWith(making.Version, making.Seed, now.ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture)), withFates: false, words, results);
        var key = now.ToString("yyyyMMdd-HHmmss-fff", CultureInfo.InvariantCulture);
        var half = System.IO.Path.Combine(Folder, "." + key + ".part");
        try
        {
            foreach (var page in pages) ReportFiles.Write(half, page);
            ReportFiles.Write(half, ResultsFile, results.WrittenSpan);
            ReportFiles.Write(half, About, JsonSerializer.SerializeToUtf8Bytes(new KeptReport(key, now, by, making.Version, making.Seed, answer.ResultsAt, [.. pages.Select(p => p.Name)]) { Season = served.Season.Name }));
            Directory.Move(half, System.IO.Path.Combine(Folder, key));
        }
        finally
        {
            if (Directory.Exists(half)) Directory.Delete(half, recursive: true);
        }
    }

    /// <summary>What two kept reports say, side by side; null when one of them is not there.</summary>
    internal (KeptReport First, KeptReport Second, ImmutableArray<ComparedRow> Rows)? Compare(string first, string second)
    {
        if (Find(first) is not { } before || Find(second) is not { } after) return null;
        using var earlier = JsonDocument.Parse(File.ReadAllBytes(At(before, ResultsFile)));
        using var later = JsonDocument.Parse(File.ReadAllBytes(At(after, ResultsFile)));
        return (before, after, ComparedResults.Of(earlier.RootElement, later.RootElement));
    }

    /// <summary>Hands out one file of a kept report: to be read here, or as one file to share.</summary>
    internal async Task AnswerAsync(HttpContext context, string key, string file)
    {
        var name = file.EndsWith(Ending, StringComparison.Ordinal) ? file[..^Ending.Length] : "";
        if (Find(key) is not { } report || !report.Pages.Contains(name)) throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here");
        context.Response.Headers.ContentSecurityPolicy = DeskSheets.Policy;
        if (context.Request.Query["save"] == "yes") context.Response.Headers.ContentDisposition = "attachment; filename=\"" + name + "-" + key[..8] + Ending + "\"";
        await Answers.BytesAsync(context, StatusCodes.Status200OK, "text/html; charset=utf-8", await File.ReadAllBytesAsync(At(report, name + Ending), context.RequestAborted));
    }

    /// <summary>Only a report that is in the list is looked for on the disk: a stranger's key never becomes a path.</summary>
    private KeptReport? Find(string key) => Kept().FirstOrDefault(r => r.Key == key);

    private string At(KeptReport report, string file) => System.IO.Path.Combine(Folder, report.Key, file);

    private static KeptReport? Read(string folder)
    {
        var about = System.IO.Path.Combine(folder, About);
        if (System.IO.Path.GetFileName(folder).StartsWith('.') || !File.Exists(about)) return null;
        try
        {
            return JsonSerializer.Deserialize<KeptReport>(File.ReadAllBytes(about)) is { } kept && kept.Key == System.IO.Path.GetFileName(folder) && !kept.Pages.IsDefault ? kept : null;
        }
        catch (JsonException)
        {
            // Somebody else's file under our name: not a report.
            return null;
        }
    }
}
