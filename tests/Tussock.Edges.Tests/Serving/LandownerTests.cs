// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Net;
using System.Text.RegularExpressions;
using Tussock.App.Serving.People;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>What a landowner sees: the own land, in the lead's own numbers, and not a word of anybody else's.</summary>
public sealed partial class LandownerTests
{
    private static readonly string[] Places = ["start_lat", "start_lon", "end_lat", "end_lon", "flag_lat", "flag_lon", "nest_lat", "nest_lon"];

    [Theory]
    [InlineData("owner", NetworkDesk.OwnProperty, NetworkDesk.OtherProperty, "/own/landowner-two-windmills")]
    [InlineData("neighbour", NetworkDesk.OtherProperty, NetworkDesk.OwnProperty, "/own/landowner-thirteen-gates")]
    public async Task Nothing_on_a_landowners_pages_is_of_other_land_or_of_places_or_of_records(string name, string property, string others, string own)
    {
        await using var desk = new NetworkDesk(Named(DemoSeason.Write(1), others));
        var secrets = Secrets(desk, property).ToHashSet(StringComparer.Ordinal);
        Assert.True(secrets.Count > 2000, secrets.Count.ToString(System.Globalization.CultureInfo.InvariantCulture));
        var owner = await desk.SignedInAsync(name);
        var home = await NetworkDesk.ReadyAsync(owner, "/");
        Assert.Contains(property, home, StringComparison.Ordinal);
        var (seen, open) = (new HashSet<string>(StringComparer.Ordinal), new Queue<string>(["/", "/password", "/desk/state", "/map", "/map.json", "/people", "/sign-in"]));
        foreach (var row in WhoMay.Rows.Where(r => r.Method == "GET")) open.Enqueue(row.Route.Replace("{}", "x", StringComparison.Ordinal));
        while (open.TryDequeue(out var address))
        {
            // The desk's own files are the same for everybody, and h1 is a tag in them.
            if ((address.StartsWith("/desk/", StringComparison.Ordinal) && address != "/desk/state") || !seen.Add(address)) continue;
            var answer = await NetworkDesk.GetAsync(owner, address);
            var text = await answer.Content.ReadAsStringAsync() + string.Join(' ', answer.Headers.Select(h => string.Join(' ', h.Value)));
            text = Packed().Replace(text, "");
            var words = Word().Matches(WebUtility.HtmlDecode(text)).Select(m => m.Value).ToHashSet(StringComparer.OrdinalIgnoreCase);
            var told = secrets.Where(s => s.Contains(' ', StringComparison.Ordinal) ? text.Contains(s, StringComparison.OrdinalIgnoreCase) : words.Contains(s)).ToArray();
            Assert.True(told.Length == 0, address + " tells " + string.Join(", ", told));
            foreach (Match way in Way().Matches(text)) if (!way.Groups["to"].Value.StartsWith("/field/", StringComparison.Ordinal)) open.Enqueue(WebUtility.HtmlDecode(way.Groups["to"].Value));
        }

        Assert.Contains(own, seen);
        var page = await owner.GetStringAsync(new Uri(own, UriKind.Relative));
        Assert.Contains(property, page, StringComparison.Ordinal);
        Assert.Empty(desk.Desk.Faults);
    }

    [Fact]
    public async Task A_change_of_other_land_is_not_to_be_seen_and_one_of_the_own_is()
    {
        await using var desk = new NetworkDesk();
        var owner = await desk.SignedInAsync("owner");
        string Same(string page) => Token().Replace(page, "");
        var home = Same(await NetworkDesk.ReadyAsync(owner, "/"));
        var state = await owner.GetStringAsync(new Uri("/desk/state", UriKind.Relative));
        var lines = desk.File.States(desk.Desk.Season.Name).Records.Where(r => r.Kind == "transects").ToLookup(r => r.Field(FieldName.OfColumn("property"))!.Value, r => r.Field(FieldName.OfColumn("transect"))!.Value);
        void TakeOut(string property)
        {
            var visits = desk.File.States(desk.Desk.Season.Name).Records.Where(r => r.Kind == "visits" && lines[property].Contains(r.Field(FieldName.OfColumn("transect"))!.Value)).Take(30);
            desk.File.Write(desk.Desk.Season.Id, [.. visits.Select(v => new Draft("visits", v.Id, ChangeOp.Void, [new FieldChange(FieldName.Void, "yes", [])]))], "test", DateTimeOffset.UtcNow);
        }

        TakeOut(NetworkDesk.OtherProperty);
        Assert.Equal(home, Same(await NetworkDesk.ReadyAsync(owner, "/")));
        Assert.Equal(state, await owner.GetStringAsync(new Uri("/desk/state", UriKind.Relative)));
        TakeOut(NetworkDesk.OwnProperty);
        for (var n = 0; n < 100 && Same(await owner.GetStringAsync(new Uri("/", UriKind.Relative))) == home; n++) await Task.Delay(100);
        Assert.NotEqual(home, Same(await owner.GetStringAsync(new Uri("/", UriKind.Relative))));
    }

    [Fact]
    public void A_landowners_numbers_are_those_of_the_whole_season()
    {
        var tables = DemoSeason.Write(1);
        var whole = Verdicts(tables);
        foreach (var own in Accounts.Properties(tables))
        {
            var cut = Verdicts(OwnTables.Of(tables, new HashSet<string>(StringComparer.Ordinal) { own }));
            Assert.Equal(whole.Where(v => v.Property == own), cut);
            Assert.All(OwnTables.Of(tables, new HashSet<string>(StringComparer.Ordinal) { own }).Tables, t => Assert.All(Places.Select(t.IndexOf).Where(i => i >= 0), i => Assert.All(t.Rows, r => Assert.Empty(r.Cells[i]))));
        }

        Assert.Empty(OwnTables.Of(tables, new HashSet<string>(StringComparer.Ordinal) { "Nowhere" }).Tables.Where(t => t.Kind != RecordKind.Crew && t.Rows.Length > 0));
    }

    [Fact]
    public async Task A_landowner_without_land_in_the_season_and_one_beside_a_broken_record_are_told_plainly()
    {
        var season = DemoSeason.Write(1);
        await using var desk = new NetworkDesk(season);
        var other = desk.File.States(desk.Desk.Season.Name).Records.First(r => r.Kind == "transects" && r.Field(FieldName.OfColumn("property"))?.Value == NetworkDesk.OtherProperty);
        desk.File.Write(desk.Desk.Season.Id, [new Draft("transects", other.Id, ChangeOp.Set, [new FieldChange(FieldName.OfColumn("set_on"), "no day", other.Field(FieldName.OfColumn("set_on"))!.HeadIds)])], "test", DateTimeOffset.UtcNow);

        Assert.Contains(NetworkDesk.OwnProperty, await NetworkDesk.ReadyAsync(await desk.SignedInAsync("owner"), "/"), StringComparison.Ordinal);
        var neighbour = await (await desk.SignedInAsync("neighbour")).GetStringAsync(new Uri("/", UriKind.Relative));
        Assert.Contains(Catalogue.English.Say("people.not_ready"), neighbour, StringComparison.Ordinal);
        Assert.DoesNotContain("no day", neighbour, StringComparison.Ordinal);
        var id = desk.File.Account("owner")!.Person.Id;
        Assert.True(desk.File.ChangePerson(id, Tussock.Store.PersonRole.Landowner, ["Sold ranch"], "test", DateTimeOffset.UtcNow));
        Assert.Contains(Catalogue.English.Say("people.not_ready"), await (await desk.SignedInAsync("owner")).GetStringAsync(new Uri("/", UriKind.Relative)), StringComparison.Ordinal);
    }

    /// <summary>The season with the neighbour's names wherever somebody may have written them.</summary>
    private static SeasonTables Named(SeasonTables season, string others)
    {
        var package = season.Package with { Season = [.. season.Package.Season.Where(p => p.Name != "comment"), new JsonProperty("comment", "\"" + others + " lies next to it, 31.40512, -99.30417\"")] };
        return season with { Package = package };
    }

    /// <summary>Names of the other property, of its pastures and lines, every coordinate as written and shortened, every id; what the own land has too is no secret.</summary>
    private static IEnumerable<string> Secrets(NetworkDesk desk, string property)
    {
        var state = desk.File.States(desk.Desk.Season.Name);
        var own = OwnTables.Of(state.Tables, new HashSet<string>(StringComparer.Ordinal) { property });
        var ownNames = Names(own).ToHashSet(StringComparer.Ordinal);
        foreach (var name in Names(state.Tables)) if (!ownNames.Contains(name)) yield return name;
        yield return "31.40512";
        yield return desk.Desk.Season.Name;
        yield return desk.Desk.Season.Id.ToString();
        yield return desk.File.Position.ToString(System.Globalization.CultureInfo.InvariantCulture);
        foreach (var record in state.Records) yield return record.Id.ToString();
        foreach (var table in state.Tables.Tables)
        {
            foreach (var column in Places.Select(table.IndexOf).Where(i => i >= 0))
            {
                foreach (var text in table.Rows.Select(r => r.Cells[column]).Where(t => t.Contains('.', StringComparison.Ordinal)))
                {
                    yield return text;
                    for (var n = text.IndexOf('.', StringComparison.Ordinal) + 4; n < text.Length; n++) yield return text[..n];
                }
            }
        }
    }

    private static IEnumerable<string> Names(SeasonTables tables)
    {
        foreach (var (kind, columns) in new (RecordKind, string[])[] { (RecordKind.Pastures, ["property", "pasture"]), (RecordKind.Transects, ["transect", "line"]) })
        {
            var table = tables.Table(kind)!;
            foreach (var column in columns.Select(table.IndexOf).Where(i => i >= 0)) foreach (var row in table.Rows) if (row.Cells[column].Length > 0) yield return row.Cells[column];
        }
    }

    private static List<(string Property, string Said)> Verdicts(SeasonTables tables)
    {
        var season = SeasonReading.Read(tables, out var stops);
        Assert.Empty(stops);
        var results = SeasonResults.Of(season!);
        return [.. results.Verdicts.Select(v => (v.Property, v.Pasture?.Name + " " + Catalogue.English.Say(v.Verdict.InWords) + string.Join(' ', Sentences.Because(v.Verdict, Catalogue.English)) + v.Group.Day28 + Catalogue.English.Say(Sentences.Count(v.Group, results.Trial)) + (v.MoreLines is { HasValue: true } more ? more.Value : "")))];
    }

    /// <summary>Style and typefaces inside a page, in which any two letters come up, and the names of its tags: h1 is a line of the season too.</summary>
    [GeneratedRegex("<style>.*?</style>|base64,[A-Za-z0-9+/=]+|</?[a-z][a-z0-9]*", RegexOptions.Singleline)]
    private static partial Regex Packed();

    [GeneratedRegex("value=\"CfDJ8[^\"]*\"")]
    private static partial Regex Token();

    [GeneratedRegex(@"[\w.-]+")]
    private static partial Regex Word();

    [GeneratedRegex("(?:href|src|action|data-text)=\"(?<to>/[^\"]*)\"")]
    private static partial Regex Way();
}
