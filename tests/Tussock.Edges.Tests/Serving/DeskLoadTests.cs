using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Net;
using Tussock.Edges.Tests.Store;
using Tussock.Records;
using Tussock.Reports.Technical;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Twenty people look around in 60,000 nests, of one season or of five, while somebody edits them.</summary>
/// <remarks>Here a small season, few people and no limit of time; the large one with TUSSOCK_LONG=1.</remarks>
public sealed class DeskLoadTests : IDisposable
{
    private const double MostMilliseconds = 150;
    private static readonly bool IsLong = Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1";
    private readonly StoreScratch scratch = new();
    private readonly ConcurrentBag<(string Page, double Milliseconds, HttpStatusCode Status, long Bytes)> answers = [];

    public void Dispose() => scratch.Dispose();

    [Theory]
    [InlineData(1)]
    [InlineData(5)]
    public async Task Every_page_answers_while_people_look_and_somebody_edits(int seasons)
    {
        var cancel = TestContext.Current.CancellationToken;
        var (lines, nests, people, pause, between, time) = IsLong ? (1500, 40, 20, 1000, 5000, TimeSpan.FromSeconds(120)) : (12, 8, 6, 20, 100, TimeSpan.FromSeconds(4));
        var all = new List<Looked>();
        for (var n = 1; n <= seasons; n++)
        {
            var name = "large-" + n.ToString(CultureInfo.InvariantCulture);
            DataFile.OpenToWrite(scratch.File).Import(new ImportRequest { Season = ManyNests.Of(name, Math.Max(2, lines / seasons), nests, (ulong)n), By = "crew 1", Now = DateTimeOffset.UnixEpoch.AddYears(56) }, cancellation: cancel);
            all.Add(new Looked(seasons == 1 ? "" : "/season/" + name, DataFile.OpenToRead(scratch.File).Tables(name, cancel)));
        }

        var clock = Stopwatch.StartNew();
        using var served = ServedProcess.Start(scratch.File);
        await served.Client.GetStringAsync(new Uri(all[0].At + "/", UriKind.Relative), cancel);
        Say($"first page after {clock.Elapsed.TotalSeconds:F1} s");
        foreach (var season in all) await served.ReadyAsync(season.At, cancel);
        Say($"everything computed after {clock.Elapsed.TotalSeconds:F1} s, {served.MegabytesUsed} MB");
        foreach (var page in all.SelectMany(s => Pages(s, new Random(0)).DistinctBy(p => p.Kind))) await LookAsync(served.Client, page, cancel);
        answers.Clear();

        using var over = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        over.CancelAfter(time);
        await Task.WhenAll(Enumerable.Range(1, people).Select(n => LookAroundAsync(served.Client, all, new Random(n), pause, over.Token)).Append(EditAsync(served, all, new Random(0), between, over.Token)));

        foreach (var page in answers.GroupBy(a => a.Page, StringComparer.Ordinal).OrderByDescending(g => At(g, 0.95)))
        {
            Say($"{page.Key,-28} {page.Count(),5} answers, half within {At(page, 0.5),7:F1} ms, 95 of 100 within {At(page, 0.95),7:F1} ms, all within {At(page, 1),7:F1} ms, {page.Max(a => a.Bytes) / 1024,6} KiB");
        }

        var looked = answers.Where(a => a.Page != "edit").ToArray();
        Say($"all pages: {looked.Length} answers, half within {At(looked, 0.5):F1} ms, 95 of 100 within {At(looked, 0.95):F1} ms, all within {At(looked, 1):F1} ms; {served.MegabytesUsed} MB");
        Assert.True(looked.Length > 100, "only " + looked.Length);
        Assert.All(answers, a => Assert.Equal(a.Page == "edit" ? HttpStatusCode.SeeOther : HttpStatusCode.OK, a.Status));
        Assert.True(answers.Count(a => a.Page == "edit") > 5);
        if (IsLong) Assert.True(At(looked, 0.95) < MostMilliseconds, "too slow");
    }

    private static void Say(FormattableString what) => TestContext.Current.TestOutputHelper!.WriteLine(what.ToString(CultureInfo.InvariantCulture));

    private static double At(IEnumerable<(string, double Milliseconds, HttpStatusCode, long)> some, double share)
    {
        var sorted = some.Select(s => s.Milliseconds).Order().ToArray();
        return sorted[Math.Max(0, (int)Math.Ceiling(share * sorted.Length) - 1)];
    }

    private async Task LookAroundAsync(HttpClient client, List<Looked> all, Random random, int pause, CancellationToken over)
    {
        try
        {
            await Task.Delay(random.Next(pause), over);
            while (true)
            {
                var pages = Pages(all[random.Next(all.Count)], random).ToArray();
                await LookAsync(client, pages[random.Next(pages.Length)], over);
                await Task.Delay(pause, over);
            }
        }
        catch (OperationCanceledException)
        {
            // The time is over.
        }
    }

    private async Task LookAsync(HttpClient client, (string Kind, string Address) page, CancellationToken cancel)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, new Uri(page.Address, UriKind.Relative));
        request.Headers.TryAddWithoutValidation("Accept-Encoding", "gzip, br");
        var clock = Stopwatch.StartNew();
        using var answer = await client.SendAsync(request, cancel);
        var bytes = await answer.Content.ReadAsByteArrayAsync(cancel);
        answers.Add((page.Kind, clock.Elapsed.TotalMilliseconds, answer.StatusCode, bytes.Length));
    }

    private async Task EditAsync(ServedProcess served, List<Looked> all, Random random, int between, CancellationToken over)
    {
        try
        {
            for (var n = 0; ; n++)
            {
                await Task.Delay(between, over);
                var season = all[random.Next(all.Count)];
                var visit = Record(season.Tables, RecordKind.Visits, random);
                var form = await served.FormAsync(season.At, visit, over);
                form["v.finding"] = form["v.finding"] == "intact" ? "depredated" : "intact";
                form["v.note"] = "looked again " + n.ToString(CultureInfo.InvariantCulture);
                var clock = Stopwatch.StartNew();
                var status = await served.PostAsync(season.At, visit, form, over);
                answers.Add(("edit", clock.Elapsed.TotalMilliseconds, status, 0));
                // Whoever saves sees what was saved.
                Assert.Equal(form["v.note"], (await served.FormAsync(season.At, visit, over))["v.note"]);
            }
        }
        catch (OperationCanceledException)
        {
            // The time is over.
        }
    }

    private static Guid Record(SeasonTables tables, RecordKind kind, Random random)
    {
        var table = tables.Table(kind)!;
        return Guid.Parse(table.Rows[random.Next(table.Rows.Length)].Cells[table.IndexOf("id")]);
    }

    /// <summary>One click of each kind.</summary>
    private static IEnumerable<(string Kind, string Address)> Pages(Looked season, Random random) => Within(season.Tables, random).Select(p => (p.Kind, season.At + p.Address));

    private static IEnumerable<(string Kind, string Address)> Within(SeasonTables tables, Random random)
    {
        yield return ("home", "/");
        yield return ("worklist", "/worklist");
        yield return ("worklist, a page", "/worklist?severity=missing&page=" + random.Next(1, 9).ToString(CultureInfo.InvariantCulture));
        foreach (var table in tables.Tables)
        {
            var (name, column) = (table.Kind.Name, table.Columns[random.Next(table.Columns.Length)]);
            yield return ("records: " + name, "/records/" + name);
            yield return ("records, filtered: " + name, $"/records/{name}?text=T{random.Next(1, 200)}");
            yield return ("records, sorted: " + name, $"/records/{name}?sort={column}&down={(random.Next(2) == 0 ? "yes" : "")}&page={random.Next(1, 50)}");
            if (table.Rows.Length > 0) yield return ("a record: " + name, "/record/" + Record(tables, table.Kind, random));
        }

        yield return ("chapter", "/results/" + TechnicalReport.Anchor(TechnicalReport.ChapterKeys[random.Next(TechnicalReport.ChapterKeys.Length)]));
        yield return ("map", "/map");
        yield return ("map.json", "/map.json");
        yield return ("sheets", "/sheets");
        yield return ("state", "/desk/state");
        yield return ("years", "/years");
        yield return ("years together", "/years/together");
    }

    /// <summary>A season that people look at, with what its addresses begin with.</summary>
    private sealed record Looked(string At, SeasonTables Tables);
}
