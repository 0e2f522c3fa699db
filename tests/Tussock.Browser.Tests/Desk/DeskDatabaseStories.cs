using System.Collections.Concurrent;
using System.Globalization;
using Microsoft.Playwright;
using Tussock.Browser.Tests.Field;
using Tussock.Edges.Tests.Store;
using Xunit;

namespace Tussock.Browser.Tests.Desk;

/// <summary>A season from its import to the landowner's evening, over the network and signed in, once from a data file and once from a database on a server: the same is seen.</summary>
[Collection("browser")]
public sealed class DeskDatabaseStories
{
    private const string LeadsPassword = "four words in a row";
    private const string OwnersPassword = "other words in a row";

    /// <summary>What was read on the way, by where the data were.</summary>
    private static readonly ConcurrentDictionary<string, string> Read = new(StringComparer.Ordinal);

    [Theory(Timeout = 120_000)]
    [InlineData("a file")]
    [InlineData("a server")]
    public async Task A_season_is_taken_in_put_right_drawn_reported_and_shown_to_its_landowner(string from)
    {
        var database = from == "a server" ? ThrowawayServer.Make() : null;
        try
        {
            await using var desk = await DeskWindow.OpenAsync(host: "localhost", data: database is null ? null : ThrowawayServer.Address(database));
            // Out of time: whatever waits for the page then fails, and the desk is ended.
            using var outOfTime = TestContext.Current.CancellationToken.Register(() => _ = desk.Page.CloseAsync());
            FieldDesk.DoneWith(LeadsPassword + "\n", "people", desk.Data, "add", "Lead", "--role", "lead");
            await desk.Page.GotoAsync(desk.Address("/sign-in"));
            await DeskPeopleStories.SignInAsync(desk, "Lead", LeadsPassword);

            await PutRightAsync(desk);
            var moved = await CorrectAsync(desk);
            await DeskMapStories.DrawAsync(desk);
            await ReportAsync(desk);
            await DeskPeopleStories.AddOwnerAsync(desk, OwnersPassword);
            await desk.Page.GetByRole(AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
            await desk.Page.WaitForURLAsync("**/sign-in");
            var owned = await OwnLandAsync(desk);

            Assert.Empty(desk.Wrong);
            Read[from] = moved + "\n" + owned;
            Assert.Single(Read.Values.Distinct(StringComparer.Ordinal));
        }
        finally
        {
            if (database is not null) ThrowawayServer.Drop(database);
        }
    }

    /// <summary>Three slips of the season, each put right where the worklist leads.</summary>
    private static async Task PutRightAsync(DeskWindow desk)
    {
        await SettleAsync(desk, "“NEN”", async page =>
        {
            await page.FillAsync("[name='v.direction']", "NNE");
            await page.ClickAsync("form.record button.main");
        });
        await SettleAsync(desk, "Transect M2, nest 5: its position is", async page =>
        {
            var typed = double.Parse(await page.InputValueAsync("[name='v.nest_lon']"), CultureInfo.InvariantCulture);
            await page.FillAsync("[name='v.nest_lon']", (typed - 0.01).ToString("F6", CultureInfo.InvariantCulture));
            await page.ClickAsync("form.record button.main");
        });
        await SettleAsync(desk, "Transect N1, nest 2: one sign of a lost nest", page => page.ClickAsync("form[action$='/void'] button"));
    }

    private static async Task SettleAsync(DeskWindow desk, string said, Func<IPage, Task> how)
    {
        await desk.GoAsync("/worklist");
        var told = desk.Page.Locator(".findings li", new() { HasText = said });
        Assert.Equal(1, await told.CountAsync());
        await told.Locator("a").ClickAsync();
        await desk.Page.WaitForSelectorAsync("form.record");
        await how(desk.Page);
        await desk.Page.WaitForSelectorAsync(".saved");
        await desk.GoAsync("/worklist");
        Assert.Equal(0, await told.CountAsync());
    }

    /// <summary>A visit that was read wrongly; what the answer is then said to do.</summary>
    private static async Task<string> CorrectAsync(DeskWindow desk)
    {
        await desk.GoAsync("/records/visits?text=intact&sort=visited_on&down=yes");
        await desk.Page.ClickAsync("main table a[href^='/record/']");
        await desk.Page.SelectOptionAsync("[name='v.finding']", "depredated");
        await desk.Page.FillAsync("[name='v.eggs_intact']", "0");
        await desk.Page.ClickAsync("form.record button.main");
        await desk.Page.WaitForSelectorAsync(".saved");
        await desk.GoAsync("/");
        return await desk.Page.InnerTextAsync(".moved");
    }

    private static async Task ReportAsync(DeskWindow desk)
    {
        await desk.GoAsync("/reports");
        await desk.Page.ClickAsync("text=Make the reports of this answer");
        await desk.Page.ClickAsync("a[href*='technical']:not([href*='save'])");
        await desk.Page.GetByText("Two Windmills").First.WaitForAsync();
    }

    /// <summary>What the landowner sees: one property, and no way to anything else.</summary>
    private static async Task<string> OwnLandAsync(DeskWindow desk)
    {
        await DeskPeopleStories.SignInAsync(desk, "Owner", OwnersPassword);
        await desk.GoAsync("/");
        await desk.Page.Locator(".card").First.WaitForAsync();
        var seen = await desk.Page.InnerTextAsync(".cards");
        await desk.PictureAsync("desk-database-own-land");
        Assert.Contains("Two Windmills", await desk.Page.ContentAsync(), StringComparison.Ordinal);
        Assert.DoesNotContain("Thirteen", await desk.Page.ContentAsync(), StringComparison.Ordinal);
        await desk.Page.GetByRole(AriaRole.Link, new() { Name = "The page of Two Windmills, to read and print" }).ClickAsync();
        await desk.Page.GetByText("Two Windmills").First.WaitForAsync();
        Assert.DoesNotContain("Thirteen", await desk.Page.ContentAsync(), StringComparison.Ordinal);
        foreach (var closed in new[] { "/worklist", "/map.json", "/records/visits", "/reports", "/people" })
        {
            var answer = await desk.Page.Context.APIRequest.GetAsync(desk.Address(closed));
            Assert.False(answer.Ok, closed);
            Assert.DoesNotContain("Thirteen", await answer.TextAsync(), StringComparison.Ordinal);
        }

        return seen;
    }
}
