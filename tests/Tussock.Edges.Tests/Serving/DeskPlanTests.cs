// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using Tussock.Edges.Tests.Commands;
using Tussock.Edges.Tests.Store;
using Tussock.Exchange.SeasonFolder;
using Tussock.Planning.Power;
using Tussock.Records;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>What is asked before anyone walks, at the desk: it says what the commands say, and writes what they write.</summary>
public sealed class DeskPlanTests : IAsyncDisposable
{
    private const string Lines = "/plan/lines?transects=2&nests=5&separation_m=100&from_edges_m=0&from_roads_m=0&from_water_m=0&from_zones_m=0&steps_between=50&seed=7";
    private readonly RunningDesk desk = new(DemoSeason.Write(1), isLoopbackOnly: true, null, null);

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task A_design_gets_the_answer_of_the_core()
    {
        var page = await PageAsync("/plan?transects=6&nests=8&pastures=1&survival_percent=40&transect_sd=0.7&clumps_per_acre=250&density_cv=0.4&not_relocated_percent=0&late_days=0&benchmark_percent=50&seed=3&designs=yes&curves=yes");
        var question = new PowerQuestion { Design = new SeasonDesign(6, 8), Truth = new SeasonTruth { Survival = 0.4, LineSd = 0.7, PerAcre = 250, DensityCv = 0.4 }, HasDensity = true, Seasons = 400, Seed = 3 };
        var answer = PowerAnswer.Of(question, new PowerExtras { Designs = true }, cancel: TestContext.Current.CancellationToken);
        Assert.Contains(Numbers.Percent(answer.Rates.SurvivalUnlikely), page, StringComparison.Ordinal);
        Assert.Contains(Numbers.Percent(answer.Formula.SurvivalUnlikely), page, StringComparison.Ordinal);
        Assert.Contains("6 × 8", page, StringComparison.Ordinal);
        Assert.Contains("<svg", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_season_that_is_there_fills_the_boxes()
    {
        var page = await PageAsync("/plan?from=season");
        Assert.Contains("invented-2026", page, StringComparison.Ordinal);
        Assert.DoesNotMatch("id=\"clumps_per_acre\"[^>]*value=\"\"", page);
    }

    [Theory]
    [InlineData("/plan?transects=many&nests=8", "no whole number from 1 to 60")]
    [InlineData("/plan?transects=0&nests=8", "“0” is no whole number")]
    [InlineData("/plan/lines?transects=6&nests=8&separation_m=-5", "“-5” is no number from 0")]
    [InlineData("/plan/lines?transects=2<script>", "2<script>")]
    [InlineData("/plan/days?from=May&crews=1", "“May” is no date")]
    [InlineData("/plan/days?from=2026-05-18&crews=1&new_crews=2&begin=06:30&end=11:30&set_out_minutes=10&check_minutes=5&moving_minutes=20", "more new crews than crews")]
    [InlineData("/plan/days?from=2026-05-18&crews=1&new_crews=0&begin=11:30&end=06:30&set_out_minutes=10&check_minutes=5&moving_minutes=20", "end after it begins")]
    [InlineData("/plan/days?from=2026-05-18&crews=1&new_crews=0&begin=06:30&end=11:30&closed=soon&set_out_minutes=10&check_minutes=5&moving_minutes=20", "Closed days are dates")]
    [InlineData("/plan/supplies?eggs_a_nest=x", "no whole number from 1 to 30")]
    public async Task What_cannot_be_read_is_told_and_nothing_is_reckoned(string address, string told)
    {
        var answer = await desk.Client.GetAsync(new Uri(address, UriKind.Relative));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        var page = await answer.Content.ReadAsStringAsync();
        Assert.Contains(told, WebUtility.HtmlDecode(page), StringComparison.Ordinal);
        Assert.DoesNotContain("<script>", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lines_are_those_of_the_command_and_are_kept_as_a_season_of_their_own()
    {
        var before = desk.File.Position;
        var page = await PageAsync(Lines);
        Assert.Contains("14 lines with 70 stations", page, StringComparison.Ordinal);
        Assert.Contains("<svg", page, StringComparison.Ordinal);
        Assert.Equal(before, desk.File.Position);

        var form = PageForm.Fields(page, "class=\"quick\"");
        (form["season"], form["year"]) = ("planned-2027", "2027");
        var kept = await KeepAsync(form);
        Assert.Equal((HttpStatusCode.SeeOther, "/years"), (kept.StatusCode, kept.Headers.Location!.ToString()));

        using var scratch = new StoreScratch();
        var folder = Path.Combine(Path.GetDirectoryName(scratch.File)!, "planned");
        Typed.Done("plan", "demo", "--transects", "2", "--nests", "5", "--seed", "7", "--name", "planned-2027", "--year", "2027", "--out", folder);
        var (command, _) = SeasonFolderReader.Read(folder, TestContext.Current.CancellationToken);
        var tables = desk.File.Tables("planned-2027");
        foreach (var kind in (RecordKind[])[RecordKind.Transects, RecordKind.Nests]) Assert.Equal(Rows(command!.Table(kind)!), Rows(tables.Table(kind)!));
        var read = SeasonReading.Read(tables, out var problems);
        Assert.Empty(problems.Select(p => p.What.Key + " " + p.Place));
        Assert.Equal("2027", read!.Settings.Year);

        var again = await KeepAsync(form);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, again.StatusCode);
        Assert.Contains("There is a season planned-2027 already", await again.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_season_without_lines_takes_them_in_itself()
    {
        var demo = DemoSeason.Write(1);
        RecordKind[] empty = [RecordKind.Transects, RecordKind.Nests, RecordKind.Visits];
        await using var bare = new RunningDesk(SeasonDescription.Listed(demo with { Tables = [.. demo.Tables.Where(t => t.Kind == RecordKind.Pastures || t.Kind == RecordKind.Crew), .. empty.Select(k => Empty(demo.Table(k)!))] }), isLoopbackOnly: true, null, null);
        SeasonReading.Read(bare.File.Tables(bare.File.Seasons().Single().Name), out var problems);
        Assert.Empty(problems.Select(p => p.What.Key + " " + p.Place));
        var page = WebUtility.HtmlDecode(await bare.Client.GetStringAsync(new Uri(Lines, UriKind.Relative)));
        var form = PageForm.Fields(page, "class=\"quick\"");
        Assert.DoesNotContain("season", form.Keys);
        var kept = await bare.Client.PostAsync(new Uri("/plan/lines", UriKind.Relative), new FormUrlEncodedContent(form));
        Assert.Equal((HttpStatusCode.SeeOther, "/map"), (kept.StatusCode, kept.Headers.Location!.ToString()));
        Assert.Equal(70, bare.File.Tables(bare.File.Seasons().Single().Name).Table(RecordKind.Nests)!.Rows.Length);
    }

    [Fact]
    public async Task What_finds_no_room_is_told_and_kept_only_when_somebody_says_so()
    {
        var page = await PageAsync(Lines.Replace("transects=2", "transects=60", StringComparison.Ordinal).Replace("separation_m=100", "separation_m=900", StringComparison.Ordinal));
        Assert.Contains("of 60 new lines found room", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Keep as a new season", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Work_is_planned_around_closed_days_and_goes_into_a_calendar()
    {
        const string Asked = "days?from=2026-05-04&crews=2&new_crews=0&begin=06:30&end=11:30&closed=2026-05-26..2026-06-30&set_out_minutes=10&check_minutes=5&moving_minutes=20";
        var unset = Unset();
        SeasonReading.Read(unset, out var problems);
        Assert.Empty(problems.Select(p => p.What.Key + " " + p.Place));
        await using var planned = new RunningDesk(unset, isLoopbackOnly: true, null, null);
        var page = WebUtility.HtmlDecode(await planned.Client.GetStringAsync(new Uri("/plan/" + Asked, UriKind.Relative)));
        Assert.Contains("set out C1", page, StringComparison.Ordinal);
        Assert.Contains("is closed; a later visit", page, StringComparison.Ordinal);
        var calendar = await planned.Client.GetStringAsync(new Uri("/plan/work.ics" + Asked["days".Length..], UriKind.Relative));
        Assert.StartsWith("BEGIN:VCALENDAR\r\n", calendar, StringComparison.Ordinal);
        Assert.Contains("SUMMARY:Crew 1: set out C1", calendar, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Supplies_are_priced_and_go_into_a_table()
    {
        const string Asked = "supplies?eggs_a_nest=3&survival_percent=50&spare_percent=10&cameras=4&batteries_a_camera=8&cost.eggs=0.25";
        Assert.Contains("batteries", await PageAsync("/plan/" + Asked), StringComparison.Ordinal);
        var rows = (await desk.Client.GetStringAsync(new Uri("/plan/supplies.csv" + Asked["supplies".Length..], UriKind.Relative))).Split('\n');
        Assert.Equal("supply,what,pieces,unit_cost,cost", rows[0]);
        var eggs = rows[1].Split(',');
        Assert.Equal(("eggs", "0.25"), (eggs[0], eggs[^2]));
        Assert.Equal(0.25 * int.Parse(eggs[^3], System.Globalization.CultureInfo.InvariantCulture), double.Parse(eggs[^1], System.Globalization.CultureInfo.InvariantCulture), 6);
        Assert.Equal(HttpStatusCode.NotFound, (await desk.Client.GetAsync(new Uri("/plan/supplies.csv?eggs_a_nest=x", UriKind.Relative))).StatusCode);
    }

    private static string[] Rows(RecordTable table) => [.. table.Rows.Select(r => string.Join('|', table.Columns.Select((c, i) => (Column: c, Cell: i < r.Cells.Length ? r.Cells[i] : "")).Where(c => c.Column != "id")))];

    /// <summary>The demo's lines before anybody set one out.</summary>
    private static SeasonTables Unset()
    {
        var demo = DemoSeason.Write(1);
        RecordTable Without(RecordTable table, params string[] columns) =>
            table with { Rows = [.. table.Rows.Select(r => r with { Cells = [.. r.Cells.Select((c, i) => columns.Contains(table.Columns[i]) ? "" : c)] })] };

        return SeasonDescription.Listed(demo with { Tables = [.. demo.Tables.Where(t => t.Kind == RecordKind.Pastures), Without(demo.Table(RecordKind.Transects)!, "set_on", "picked_up_on", "flags_out", "flags_in", "washers_out", "washers_in"), Without(demo.Table(RecordKind.Nests)!, "set_on", "set_at", "status"), Empty(demo.Table(RecordKind.Visits)!)] });
    }

    private static RecordTable Empty(RecordTable table) => new(table.Kind, table.Columns, []);

    private async Task<string> PageAsync(string address) => WebUtility.HtmlDecode(await desk.Client.GetStringAsync(new Uri(address, UriKind.Relative)));

    private Task<HttpResponseMessage> KeepAsync(Dictionary<string, string> form) => desk.Client.PostAsync(new Uri("/plan/lines", UriKind.Relative), new FormUrlEncodedContent(form));
}
