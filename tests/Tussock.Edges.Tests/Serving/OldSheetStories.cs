// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using Tussock.Edges.Tests.Workbook;
using Tussock.Records;
using Tussock.Results;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>The drawer of old sheets: two invented workbooks of one row a nest, 2019 and 2023, with a merged title, codes, blanks and a row of totals.</summary>
public sealed class OldSheetStories : IAsyncDisposable
{
    private readonly RunningDesk desk = new();

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task Two_old_seasons_are_in_the_second_without_a_question_and_the_years_stand_side_by_side()
    {
        var asked = await ReadAsync(Book(2019, seed: 3));
        Assert.DoesNotContain("/old/take", asked, StringComparison.Ordinal);
        Assert.Contains("Stn", asked, StringComparison.Ordinal);
        var answers = PageForm.All(asked);
        Assert.Equal("station", answers["column.0"]);
        Assert.Equal("cover", answers["column.1"]);
        Assert.Equal("first_check", answers["column.2"]);
        Assert.Equal("second_check", answers["column.3"]);
        Assert.Equal("note", answers["column.4"]);
        Assert.Equal("2019", answers["year"]);
        answers["property"] = "Two Windmills";
        answers["pasture"] = "Far Side";
        var shown = await (await PostAsync("/old/look", answers)).Content.ReadAsStringAsync();
        Assert.Contains("They agree", shown, StringComparison.Ordinal);
        Assert.DoesNotContain("They differ", shown, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("/old/take", PageForm.All(shown))).StatusCode);

        // The second workbook: nothing is asked, and it is taken at the first press.
        var second = await ReadAsync(Book(2023, seed: 5));
        Assert.Contains("They agree", second, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("/old/take", PageForm.All(second))).StatusCode);

        Assert.Equal(["2019", "2023", "small"], desk.File.Seasons().Select(s => s.Name));
        var years = await YearsAsync();
        Assert.Contains("2019, 2023: set-out dates not known: compare with care.", years, StringComparison.Ordinal);
        Assert.Contains("<h2>Two Windmills</h2>", years, StringComparison.Ordinal);
        foreach (var (year, seed) in ((string, int)[])[("2019", 3), ("2023", 5)])
        {
            var results = SeasonResults.Of(SeasonReading.Read(desk.File.Tables(year), out _)!);
            var rows = Nests(seed);
            Assert.Equal((rows.Count(r => r.Second == "O"), rows.Count(r => r.Second is "O" or "X" || (r.First == "X" && r.Second.Length == 0))), (results.Whole.Counts.Intact, results.Whole.Counts.FateKnown));
            Assert.Equal(rows.Count(r => r.Second == "NR"), results.Whole.Counts.Unknown - rows.Count(r => r.First == "O" && r.Second.Length == 0));
        }
    }

    [Fact]
    public async Task Ten_old_sheets_are_ten_years_on_one_picture_with_what_must_be_said_first()
    {
        var years = Enumerable.Range(2011, 10).ToArray();
        foreach (var year in years)
        {
            var page = await ReadAsync(Book(year, seed: year));
            if (year == years[0])
            {
                var answers = PageForm.All(page);
                (answers["property"], answers["pasture"]) = ("Salt Fork", "Far Side");
                page = await (await PostAsync("/old/look", answers)).Content.ReadAsStringAsync();
            }

            Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("/old/take", PageForm.All(page))).StatusCode);
        }

        var shown = await YearsAsync();
        var at = shown.IndexOf("<h2>Salt Fork</h2>", StringComparison.Ordinal);
        var land = shown[at..shown.IndexOf("</section>", at, StringComparison.Ordinal)];
        Assert.Contains(string.Join(", ", years) + ": set-out dates not known: compare with care.", land, StringComparison.Ordinal);
        var picture = land[land.IndexOf("<svg", StringComparison.Ordinal)..land.IndexOf("</svg>", StringComparison.Ordinal)];
        foreach (var year in years) Assert.Contains(">" + year.ToString(CultureInfo.InvariantCulture) + "</text>", picture, StringComparison.Ordinal);
        Assert.True(land.IndexOf("compare with care", StringComparison.Ordinal) < land.IndexOf("<svg", StringComparison.Ordinal));
        Assert.Contains("From 2019 to 2020 survival", land, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_differs_from_the_sheets_own_total_is_told_before_anything_is_written()
    {
        var answers = PageForm.All(await ReadAsync(Book(2019, seed: 3, total: "99")));
        answers["property"] = "Two Windmills";
        var shown = await (await PostAsync("/old/look", answers)).Content.ReadAsStringAsync();
        Assert.Contains("They differ", shown, StringComparison.Ordinal);
        Assert.Equal(["small"], desk.File.Seasons().Select(s => s.Name));
    }

    [Theory]
    [InlineData("column.0", "nothing", "No column is the station")]
    [InlineData("column.4", "cover", "said to be the same")]
    [InlineData("means.0", "", "What does")]
    [InlineData("year", "19", "four digits")]
    [InlineData("season", "small", "is in this data file already")]
    [InlineData("property", "", "property needs a name")]
    [InlineData("set_on", "2020-05-01", "date of that year")]
    public async Task An_answer_that_cannot_be_is_told_and_nothing_is_written(string field, string value, string told)
    {
        var answers = PageForm.All(await ReadAsync(Book(2019, seed: 3)));
        answers["property"] = "Two Windmills";
        answers[field] = value;
        var answer = await PostAsync("/old/look", answers);
        var page = await answer.Content.ReadAsStringAsync();

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.Contains(told, page, StringComparison.Ordinal);
        Assert.NotEqual(HttpStatusCode.SeeOther, (await PostAsync("/old/take", PageForm.All(page))).StatusCode);
        Assert.Equal(["small"], desk.File.Seasons().Select(s => s.Name));
    }

    [Fact]
    public async Task A_station_that_stands_twice_names_its_row()
    {
        var book = new HandMadeBook();
        book.Sheet("sheet", book.Row(1, "Stn", "Veg", "14", "28", "Rem") + book.Row(2, "C1-1", "grass", "O", "O") + book.Row(3, "C1-01", "grass", "O", "X") + book.Row(4, "by the gate", "grass", "O", "X"));
        var answers = PageForm.All(await ReadAsync(book));
        (answers["property"], answers["season"], answers["year"]) = ("Two Windmills", "old", "2019");
        var page = await (await PostAsync("/old/look", answers)).Content.ReadAsStringAsync();
        Assert.Contains("Row 3: line C1, nest 1", page, StringComparison.Ordinal);
        Assert.Contains("Row 4:", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Numbers_alone_stand_on_the_line_of_their_pasture_and_an_older_program_wrote_the_file()
    {
        var csv = System.Text.Encoding.Latin1.GetBytes("Past,No,Veg,14,28\nCañada,1,grass,O,O\nCañada,2,grass,O,X\nMill,1,grass,X,\nMill,2,grass,O,O\n");
        var answers = PageForm.All(await (await UploadAsync("old.csv", csv)).Content.ReadAsStringAsync());
        (answers["property"], answers["season"], answers["year"]) = ("Two Windmills", "old", "2019");
        var shown = await (await PostAsync("/old/look", answers)).Content.ReadAsStringAsync();
        Assert.Contains("the nests of a pasture count as one line", shown, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("/old/take", PageForm.All(shown))).StatusCode);
        Assert.Equal(["Cañada", "Mill"], desk.File.Tables("old").Table(RecordKind.Transects)!.Rows.Select(r => r.Cells[desk.File.Tables("old").Table(RecordKind.Transects)!.IndexOf("transect")]).Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData(';')]
    [InlineData('\t')]
    public async Task Where_a_comma_is_the_decimal_sign_other_signs_stand_between_cells_and_totals_are_read_so(char between)
    {
        // Six nests: 3 of the 5 looked at on day 28 are whole, 60,0 %, and remarks have commas of their own.
        var csv = "Potrero norte, 2019\nNido,Veg,14,28,Nota\nC1-1,zacate,O,O,\nC1-2,zacate,O,X,\"cáscaras, 2,5 m\"\nC1-3,arbusto,X,,\nC1-4,arbusto,O,O,\nC1-5,zacate,O,O,\nC1-6,zacate,O,X,\nTotal,,5,\"60,0 %\",\n";
        var text = System.Text.RegularExpressions.Regex.Replace(csv, "\"[^\"]*\"|,(?! )", m => m.Value.Length == 1 ? between.ToString() : m.Value.Trim('"').Replace('\t', ' '));
        var answers = PageForm.All(await (await UploadAsync("viejo.csv", System.Text.Encoding.UTF8.GetBytes(text))).Content.ReadAsStringAsync());
        Assert.Equal(("station", "cover", "first_check", "second_check", "note"), (answers["column.0"], answers["column.1"], answers["column.2"], answers["column.3"], answers["column.4"]));
        (answers["property"], answers["season"], answers["year"]) = ("Two Windmills", "old", "2019");
        var shown = await (await PostAsync("/old/look", answers)).Content.ReadAsStringAsync();
        Assert.Contains("They agree", shown, StringComparison.Ordinal);
        Assert.DoesNotContain("They differ", shown, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.SeeOther, (await PostAsync("/old/take", PageForm.All(shown))).StatusCode);
        var nests = desk.File.Tables("old").Table(RecordKind.Nests)!;
        Assert.Equal(6, nests.Rows.Length);
        Assert.Contains("cáscaras, 2,5 m", nests.Rows.Select(r => r.Cells[nests.IndexOf("note")]));
    }

    [Fact]
    public async Task Nothing_answered_at_all_is_told()
    {
        var answers = PageForm.All(await ReadAsync(Book(2019, seed: 3)));
        (answers["property"], answers["season"]) = ("", "");
        Assert.Contains("The season needs a name", await (await PostAsync("/old/look", answers)).Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("nothing")]
    [InlineData("PK\u0003\u0004")]
    [InlineData("a,b\n")]
    [InlineData("one,two,three\n1,2\n\"")]
    [InlineData("<script>,<b>,<i>\n<script>alert(1)</script>,O,X\n")]
    public async Task A_file_of_any_kind_is_answered_with_a_page(string text)
    {
        foreach (var name in (string[])["old.xlsx", "old.csv", "../old.exe"])
        {
            var page = await (await UploadAsync(name, System.Text.Encoding.UTF8.GetBytes(text))).Content.ReadAsStringAsync();
            Assert.Contains("Old sheets", page, StringComparison.Ordinal);
            Assert.DoesNotContain("<script>alert", page, StringComparison.Ordinal);
        }
    }

    /// <summary>Twelve nests on two lines, drawn by a seed: O and X, now and then NR or a blank.</summary>
    private static (string Stn, string Veg, string First, string Second)[] Nests(int seed) => [.. Enumerable.Range(0, 24).Select(i =>
    {
        var draw = ((i * 7) + (seed * 11)) % 10;
        var first = draw switch { < 7 => "O", < 9 => "X", _ => "" };
        var second = first == "X" ? "" : ((draw + i) % 6) switch { < 3 => "O", 3 => "NR", 4 => "X", _ => "O" };
        return ("C" + ((i / 6) + 1) + "-" + ((i % 6) + 1), i % 2 == 0 ? "grass" : "pear", first, second);
    })];

    private static HandMadeBook Book(int year, int seed, string? total = null)
    {
        var book = new HandMadeBook();
        var nests = Nests(seed);
        string Count(IEnumerable<string> found) => found.Count(f => f == "O").ToString(CultureInfo.InvariantCulture);
        var rows = book.Row(1, "Far Side, dummy nests " + year) + book.Row(3, "Stn", "Veg", "14", "28", "Rem.")
            + string.Concat(nests.Select((n, i) => book.Row(i + 4, n.Stn, n.Veg, n.First, n.Second.ToLowerInvariant().Replace("o", "O", StringComparison.Ordinal), i == 2 ? "by the gate" : "")))
            + book.Row(nests.Length + 4, "Total", "", Count(nests.Select(n => n.First)), total ?? Count(nests.Select(n => n.Second)));
        return book.Sheet("nests", rows, "<mergeCells count=\"1\"><mergeCell ref=\"A1:E1\"/></mergeCells>").Sheet("other", book.Row(1, "shopping", "list", "eggs") + book.Row(2, "a", "b", "300"));
    }

    private async Task<string> ReadAsync(HandMadeBook book) => await (await UploadAsync("old.xlsx", await File.ReadAllBytesAsync(book.Write(desk.Folder)))).Content.ReadAsStringAsync();

    private async Task<HttpResponseMessage> UploadAsync(string name, byte[] bytes)
    {
        var token = PageForm.All(await desk.Client.GetStringAsync(new Uri((desk.File.Seasons().Length > 1 ? "/season/small" : "") + "/old", UriKind.Relative))).First();
        using var form = new MultipartFormDataContent { { new StringContent(token.Value), token.Key } };
        var part = new ByteArrayContent(bytes);
        part.Headers.ContentDisposition = new ContentDispositionHeaderValue("form-data") { Name = "files", FileName = '"' + name + '"' };
        form.Add(part);
        return await desk.Client.PostAsync(new Uri("/old/read", UriKind.Relative), form);
    }

    private Task<HttpResponseMessage> PostAsync(string path, Dictionary<string, string> form) => desk.Client.PostAsync(new Uri(path, UriKind.Relative), new FormUrlEncodedContent(form));

    private async Task<string> YearsAsync()
    {
        for (var turn = 0; ; turn++)
        {
            var page = await desk.Client.GetStringAsync(new Uri("/season/small/years", UriKind.Relative));
            if (!page.Contains("being computed", StringComparison.Ordinal) || turn > 100) return page;
            await Task.Delay(50);
        }
    }
}
