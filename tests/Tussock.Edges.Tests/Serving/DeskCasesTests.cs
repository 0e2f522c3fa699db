// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Collections.Immutable;
using System.Net;
using System.Security.Cryptography;
using System.Text.Json;
using System.Text.RegularExpressions;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Results;
using Tussock.Simulation;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>Nests from here as practice cases: a lead chooses at the desk, phones get small views and nothing that names a place; the choice is a change like any other.</summary>
public sealed partial class DeskCasesTests : IAsyncDisposable
{
    private static readonly byte[] Picture = Drawn(2000, 1500);
    private static readonly (SeasonTables Tables, string Transect, string Nest) With = Season();
    private readonly RunningDesk desk = new(With.Tables, isLoopbackOnly: true, null, null);

    public DeskCasesTests() => desk.Media.Keep(Picture);

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task A_photo_goes_to_phones_once_a_lead_has_looked_at_it_and_no_longer_once_it_is_taken_out()
    {
        await desk.PairAsync();
        Assert.False((await BundleAsync()).GetProperty("practice").TryGetProperty("from_here", out _));
        var (id, page) = await OfferedAsync();
        Assert.Contains($"{With.Transect}, nest {With.Nest}: ", page, StringComparison.Ordinal);
        Assert.Contains("Can't be a case yet", page, StringComparison.Ordinal);

        var position = desk.File.Position;
        var unlooked = await PostAsync(("w." + id, ""), ("v." + id, "yes"));
        Assert.Equal((HttpStatusCode.UnprocessableEntity, position), (unlooked.StatusCode, desk.File.Position));
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(("w." + id, ""), ("v." + id, "yes"), ("looked", "yes"))).StatusCode);
        Assert.Equal(HttpStatusCode.Conflict, (await PostAsync(("w." + id, ""), ("v." + id, "yes"), ("looked", "yes"))).StatusCode);

        var here = (await BundleAsync()).GetProperty("practice").GetProperty("from_here");
        var one = Assert.Single(here.GetProperty("cases").EnumerateArray());
        Assert.Equal(["set", "classes", "cases"], here.EnumerateObject().Select(p => p.Name));
        Assert.Equal(["id", "views", "remains", "truth", "program", "why", "common"], one.EnumerateObject().Select(p => p.Name));
        foreach (var percents in new[] { "program", "common" }) Assert.Equal((100, here.GetProperty("classes").GetArrayLength()), (one.GetProperty(percents).EnumerateArray().Sum(p => p.GetInt32()), one.GetProperty(percents).GetArrayLength()));
        Assert.DoesNotContain(With.Transect, here.GetRawText(), StringComparison.Ordinal);
        Assert.DoesNotContain(Hash, here.GetRawText(), StringComparison.Ordinal);

        // The views: what the bundle names, small, JPEG, and without what a camera writes.
        var views = await JsonAsync("/field/api/practice");
        Assert.Equal(here.GetProperty("set").GetString(), views.GetProperty("set").GetString());
        var view = Assert.Single(views.GetProperty("views").EnumerateObject());
        var bytes = view.Value.GetBytesFromBase64();
        Assert.Equal([view.Name], one.GetProperty("views").EnumerateArray().Select(v => v.GetString()));
        Assert.Equal(view.Name, Convert.ToHexStringLower(SHA256.HashData(bytes)));
        Assert.InRange(bytes.Length, 1, 150_000);
        Assert.Equal((640, 480), Size(bytes));
        Assert.Equal(-1, bytes.AsSpan().IndexOf("Exif"u8));

        // A change like any other: under a name, with a history; taken out here, and that undone where all records are.
        var record = Guid.Parse(id);
        Assert.Equal("crew 1", desk.File.Changes(record)[^1].By);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(("w." + id, "yes"))).StatusCode);
        Assert.False((await BundleAsync()).GetProperty("practice").TryGetProperty("from_here", out _));
        Assert.Empty((await JsonAsync("/field/api/practice")).GetProperty("views").EnumerateObject());
        var heads = string.Join(' ', Fold.Record(desk.File.Changes(record)).Field("practice")!.HeadIds);
        await PostAsync("/record/" + id + "/undo", ("column", "practice"), ("heads", heads));
        Assert.True((await BundleAsync()).GetProperty("practice").TryGetProperty("from_here", out _));
        Assert.Empty(desk.Faults);
    }

    [Fact]
    public async Task A_photo_that_the_page_did_not_offer_is_not_taken()
    {
        var other = desk.File.States(desk.Season.Name).Records.First(r => r.Kind == "visits").Id;
        var position = desk.File.Position;
        foreach (var id in new[] { other.ToString(), "x", Guid.Empty.ToString() }) Assert.Equal(HttpStatusCode.Conflict, (await PostAsync(("w." + id, ""), ("v." + id, "yes"), ("looked", "yes"))).StatusCode);
        Assert.Equal(position, desk.File.Position);
    }

    [Fact]
    public async Task Views_are_for_paired_phones_alone() =>
        Assert.Equal(HttpStatusCode.Unauthorized, (await desk.Client.GetAsync(new Uri("/field/api/practice", UriKind.Relative))).StatusCode);

    [Fact]
    public async Task A_culprit_that_is_in_no_list_is_another_one()
    {
        var cameras = With.Tables.Table(RecordKind.Cameras)!;
        var at = cameras.IndexOf("culprit");
        await using var odd = new RunningDesk(With.Tables with { Tables = [.. With.Tables.Tables.Select(t => t.Kind != RecordKind.Cameras ? t : t with { Rows = [.. t.Rows.Select(r => r with { Cells = r.Cells.SetItem(at, "jaguarundi") })] })] }, isLoopbackOnly: true, null, null);
        var page = await odd.Client.GetAsync(new Uri("/cases", UriKind.Relative));
        Assert.Equal(HttpStatusCode.OK, page.StatusCode);
        Assert.Contains($"{With.Transect}, nest {With.Nest}: ", WebUtility.HtmlDecode(await page.Content.ReadAsStringAsync()), StringComparison.Ordinal);
        Assert.Empty(odd.Faults);
    }

    [Fact]
    public async Task A_season_without_confirmed_nests_is_told_what_it_takes()
    {
        await using var plain = new RunningDesk();
        var page = await plain.Client.GetStringAsync(new Uri("/cases", UriKind.Relative));
        Assert.Contains("No nest of this season can be a case yet", page, StringComparison.Ordinal);
        Assert.Contains("What it takes", page, StringComparison.Ordinal);
    }

    private static string Hash => Convert.ToHexStringLower(SHA256.HashData(Picture));

    private Task<JsonElement> BundleAsync() => JsonAsync("/field/api/bundle");

    private async Task<JsonElement> JsonAsync(string address) => await RunningDesk.JsonAsync(await desk.Client.GetAsync(new Uri(address, UriKind.Relative)));

    private async Task<(string Id, string Page)> OfferedAsync()
    {
        var page = WebUtility.HtmlDecode(await desk.Client.GetStringAsync(new Uri("/cases", UriKind.Relative)));
        return (Shown().Match(page).Groups["id"].Value, page);
    }

    private Task<HttpResponseMessage> PostAsync(params (string Name, string Value)[] fields) => PostAsync("/cases", fields);

    private async Task<HttpResponseMessage> PostAsync(string address, params (string Name, string Value)[] fields)
    {
        var token = Token().Match(await desk.Client.GetStringAsync(new Uri("/quick", UriKind.Relative)));
        return await desk.Client.PostAsync(new Uri(address, UriKind.Relative), new FormUrlEncodedContent(fields.Append((token.Groups["name"].Value, WebUtility.HtmlDecode(token.Groups["value"].Value))).ToDictionary(f => f.Item1, f => f.Item2)));
    }

    /// <summary>The built-in season with one photo of a nest whose culprit a camera confirmed.</summary>
    private static (SeasonTables, string, string) Season()
    {
        var tables = DemoSeason.Write(1);
        var nest = SeasonCases.Of(SeasonReading.Read(tables, out _)!).Offered.First(o => o.Missing?.Key == "cases.missing_photos").Nest;
        ImmutableArray<string> columns = ["media", "type", "transect", "nest"];
        var number = nest.Number.ToString(System.Globalization.CultureInfo.InvariantCulture);
        return (tables with { Tables = [.. tables.Tables, new RecordTable(RecordKind.Media, columns, [new RecordRow(2, [Hash, "image/png", nest.Transect.Name, number])])] }, nest.Transect.Name, number);
    }

    private static byte[] Drawn(int width, int height)
    {
        using var surface = SkiaSharp.SKSurface.Create(new SkiaSharp.SKImageInfo(width, height));
        surface.Canvas.Clear(SkiaSharp.SKColors.SandyBrown);
        using var image = surface.Snapshot();
        using var png = image.Encode();
        return png.ToArray();
    }

    private static (int, int) Size(byte[] picture)
    {
        using var read = SkiaSharp.SKBitmap.Decode(picture);
        return (read.Width, read.Height);
    }

    [GeneratedRegex("name=\"w\\.(?<id>[0-9a-f-]{36})\"")]
    private static partial Regex Shown();

    [GeneratedRegex("<input type=\"hidden\" name=\"(?<name>__[^\"]*)\" value=\"(?<value>[^\"]*)\"")]
    private static partial Regex Token();
}
