// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Tussock.Edges.Tests.Store;
using Tussock.Exchange.GeoJson;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>The desk's map: what it draws, boundaries as people write them, files of places let go over it.</summary>
public sealed partial class DeskMapTests : IAsyncDisposable
{
    private const string Square = "31.40, -99.30\n31.40, -99.29\n31.41, -99.29\n31.41, -99.30";
    private readonly RunningDesk desk = new();

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task The_map_has_every_line_and_nest_with_what_became_of_it()
    {
        using var map = JsonDocument.Parse(await desk.Client.GetStringAsync(new Uri("/map.json", UriKind.Relative)));
        var page = await desk.Client.GetStringAsync(new Uri("/map", UriKind.Relative));
        var nests = desk.File.States("small").Tables.Tables.Single(t => t.Kind.Name == "nests");

        Assert.Equal(nests.Rows.Length, map.RootElement.GetProperty("nests").GetArrayLength());
        Assert.All(map.RootElement.GetProperty("nests").EnumerateArray(), n => Assert.InRange(n.GetProperty("mark").GetInt32(), 0, 4));
        Assert.All(map.RootElement.GetProperty("lines").EnumerateArray(), l => Assert.Contains("data-line=\"" + l.GetProperty("name").GetString() + "\"", page, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_written_boundary_is_kept_with_who_and_drawn_at_once()
    {
        var address = await BoundaryAsync();
        var (form, _) = await FormAsync(address);
        form["corners"] = Square;
        var answer = await PostAsync(address, form);

        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        var areas = BoundaryText.Read(desk.File.States("small").Tables.Texts[BoundaryText.File]);
        Assert.Equal(5, Assert.Single(Assert.Single(areas).Value.Pieces).Outer.Length);
        using var map = JsonDocument.Parse(await desk.Client.GetStringAsync(new Uri("/map.json", UriKind.Relative)));
        Assert.Equal(1, map.RootElement.GetProperty("areas").GetArrayLength());
        var text = desk.File.States("small").Records.Single(r => r.Kind == "text");
        var last = desk.File.Changes(text.Id)[^1];
        Assert.Equal(("crew 1", "map"), (last.By, last.Source));

        var position = desk.File.Position;
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(address, (await FormAsync(address)).Form)).StatusCode);
        Assert.Equal(position, desk.File.Position);
    }

    [Fact]
    public async Task A_hole_stays_a_hole_and_a_second_piece_a_piece()
    {
        var address = await BoundaryAsync();
        var (form, _) = await FormAsync(address);
        form["corners"] = Square + "\n\n31.403, -99.297\n31.403, -99.293\n31.407, -99.293\n\n31.5 -99.3\n31.5 -99.2\n31.6 -99.2\n";
        await PostAsync(address, form);

        var pieces = Assert.Single(BoundaryText.Read(desk.File.States("small").Tables.Texts[BoundaryText.File])).Value.Pieces;
        Assert.Equal([1, 0], pieces.Select(p => p.Holes.Length));
        var (again, _) = await FormAsync(address);
        Assert.Equal(3, again["corners"].Split("\n\n").Length);
    }

    [Theory]
    [InlineData("", "No corners")]
    [InlineData("31.4, -99.3\n31.4, -99.2", "three are needed")]
    [InlineData("31.4, -99.3\nthe gate\n31.5, -99.2", "Line 2")]
    [InlineData("91, 0\n0, 1\n1, 1", "Line 1")]
    [InlineData("31.4, -99.3\n31.5, -99.2\n31.4, -99.2\n31.5, -99.3", "crosses the side")]
    public async Task What_is_no_boundary_is_told_and_what_was_typed_stays(string typed, string told)
    {
        var address = await BoundaryAsync();
        var (form, _) = await FormAsync(address);
        form["corners"] = typed;
        var answer = await PostAsync(address, form);
        var page = await answer.Content.ReadAsStringAsync();

        Assert.Equal(HttpStatusCode.Conflict, answer.StatusCode);
        Assert.Contains(told, page, StringComparison.Ordinal);
        Assert.Contains(typed.Split('\n')[0], page, StringComparison.Ordinal);
        Assert.Empty(BoundaryText.Read(desk.File.States("small").Tables.Texts[BoundaryText.File]));
    }

    [Fact]
    public async Task A_boundary_that_somebody_else_has_changed_meanwhile_is_not_overwritten_unseen()
    {
        var address = await BoundaryAsync();
        var (mine, _) = await FormAsync(address);
        var (theirs, _) = await FormAsync(address);
        theirs["corners"] = Square;
        await PostAsync(address, theirs);
        mine["corners"] = Square.Replace("31.41", "31.42", StringComparison.Ordinal);
        var answer = await PostAsync(address, mine);

        Assert.Equal(HttpStatusCode.Conflict, answer.StatusCode);
        Assert.Contains(31.41, Outer().Select(p => Math.Round(p.Latitude, 6)));
        var again = PageForm.All(await answer.Content.ReadAsStringAsync());
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(address, again)).StatusCode);
        Assert.Contains(31.42, Outer().Select(p => Math.Round(p.Latitude, 6)));

        IEnumerable<Land.Position> Outer() => BoundaryText.Read(desk.File.States("small").Tables.Texts[BoundaryText.File]).Single().Value.Pieces[0].Outer;
    }

    [Fact]
    public async Task A_file_is_shown_before_it_is_taken_and_taken_once()
    {
        var line = desk.File.States("small").Tables.Tables.Single(t => t.Kind.Name == "transects").Rows[0];
        var name = line.Cells[desk.File.States("small").Tables.Tables.Single(t => t.Kind.Name == "transects").IndexOf("transect")];
        var gpx = $"""<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="a test"><wpt lat="31.4501" lon="-99.2001"><name>{name} nest 1</name></wpt><wpt lat="31" lon="-99"><name>&lt;script&gt;alert(1)&lt;/script&gt;</name></wpt></gpx>""";
        var position = desk.File.Position;
        var looked = await UploadAsync(("C:\\temp\\..\\gate <b>.gpx", Encoding.UTF8.GetBytes(gpx)));
        var page = await looked.Content.ReadAsStringAsync();

        Assert.Equal(HttpStatusCode.OK, looked.StatusCode);
        Assert.DoesNotContain("<script>", page, StringComparison.Ordinal);
        Assert.Equal(position, desk.File.Position);
        var taking = PageForm.All(page);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync(new Uri("/map/take", UriKind.Relative), taking)).StatusCode);
        Assert.True(desk.File.Position > position);
        using var map = JsonDocument.Parse(await desk.Client.GetStringAsync(new Uri("/map.json", UriKind.Relative)));
        Assert.Contains(map.RootElement.GetProperty("nests").EnumerateArray(), n => n.TryGetProperty("at", out var at) && at[0].GetDouble() == 31.4501);
        Assert.Equal(HttpStatusCode.Gone, (await PostAsync(new Uri("/map/take", UriKind.Relative), taking)).StatusCode);
    }

    [Theory]
    [InlineData("places.gpx", "this is no map")]
    [InlineData("places.zip", "this is no zip")]
    [InlineData("../../etc/passwd", "root")]
    [InlineData("places.dbf", "a part alone")]
    [InlineData("", "nameless")]
    public async Task A_file_that_holds_no_places_is_told(string name, string text)
    {
        var answer = await UploadAsync((name, Encoding.UTF8.GetBytes(text)));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains("role=\"alert\"", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_package_of_camera_records_is_shown_with_its_nests_and_taken_when_that_is_said()
    {
        using var package = new Cameras.MadePackage("000-three-visitors");
        package.Change("deployments.csv", "nest:1-3", "nest:T0-3").Change("deployments.csv", "transect 1 nest 8", "");
        var bytes = await File.ReadAllBytesAsync(package.Zip());
        var zoned = PlainFolder.Invented("small", 12) with { Package = SeasonPackage.Parse("""{"title":"Invented","season":{"name":"small","year":2024,"time_zone":"America/Chicago","cover_classes":["grass","shrub"]}}""") };
        await using var there = new RunningDesk(zoned, true, null, null);
        var position = there.File.Position;

        var looked = await UploadAsync(there, ("package.zip", bytes));

        var page = await looked.Content.ReadAsStringAsync();
        Assert.Equal(HttpStatusCode.OK, looked.StatusCode);
        Assert.Contains("A-2024: nest T0-3", page, StringComparison.Ordinal);
        Assert.Contains("C-2024: no nest of the season has a place", page, StringComparison.Ordinal);
        Assert.Equal(position, there.File.Position);
        Assert.Equal(HttpStatusCode.SeeOther, (await there.Client.PostAsync(new Uri("/map/take", UriKind.Relative), new FormUrlEncodedContent(PageForm.All(page)))).StatusCode);
        Assert.Equal(5, there.File.Tables("small").Table(RecordKind.Cameras)!.Rows.Length);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await UploadAsync(("package.zip", bytes))).StatusCode);
    }

    [Fact]
    public async Task A_packed_bomb_is_not_unpacked()
    {
        using var packed = new MemoryStream();
        using (var zip = new ZipArchive(packed, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var bomb = zip.CreateEntry("pastures.shp", CompressionLevel.SmallestSize).Open();
            var zeros = new byte[1 << 20];
            for (var i = 0; i < 200; i++) bomb.Write(zeros);
        }

        var answer = await UploadAsync(("pastures.zip", packed.ToArray()));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
    }

    [Fact]
    public async Task Search_areas_are_those_of_one_line()
    {
        using var none = JsonDocument.Parse(await desk.Client.GetStringAsync(new Uri("/map/search.json?line=%3Cnone%3E", UriKind.Relative)));
        Assert.Equal(0, none.RootElement.GetProperty("areas").GetArrayLength());
    }

    private async Task<Uri> BoundaryAsync() => new(Boundaries().Match(await desk.Client.GetStringAsync(new Uri("/map", UriKind.Relative))).Value, UriKind.Relative);

    private async Task<(Dictionary<string, string> Form, string Page)> FormAsync(Uri address)
    {
        var page = await desk.Client.GetStringAsync(address);
        return (PageForm.All(page), page);
    }

    private Task<HttpResponseMessage> PostAsync(Uri address, Dictionary<string, string> form) => desk.Client.PostAsync(address, new FormUrlEncodedContent(form));

    private Task<HttpResponseMessage> UploadAsync(params (string Name, byte[] Bytes)[] files) => UploadAsync(desk, files);

    private static async Task<HttpResponseMessage> UploadAsync(RunningDesk at, params (string Name, byte[] Bytes)[] files)
    {
        var (token, _) = Token(await at.Client.GetStringAsync(new Uri("/map", UriKind.Relative)));
        using var form = new MultipartFormDataContent { { new StringContent(token.Value), token.Key } };
        foreach (var (name, bytes) in files)
        {
            var part = new ByteArrayContent(bytes);
            part.Headers.ContentDisposition = new ContentDispositionHeaderValue("form-data") { Name = "files", FileName = '"' + name.Replace("\"", "", StringComparison.Ordinal) + '"' };
            form.Add(part);
        }

        return await at.Client.PostAsync(new Uri("/map/files", UriKind.Relative), form);
    }

    private static (KeyValuePair<string, string> Token, string Page) Token(string page) => (PageForm.All(page).First(f => f.Key.StartsWith("__", StringComparison.Ordinal)), page);

    [GeneratedRegex("/boundary/[0-9a-f-]+")]
    private static partial Regex Boundaries();
}
