using Tussock.Browser.Tests.Field;
using Xunit;

namespace Tussock.Browser.Tests.Desk;

/// <summary>The desk over the network: a lead gives a landowner an account, and the landowner sees the own land alone.</summary>
[Collection("browser")]
public sealed class DeskPeopleStories
{
    private const string LeadsPassword = "four words in a row";
    private const string OwnersPassword = "other words in a row";

    [Fact]
    public async Task A_landowner_is_let_in_by_the_lead_and_sees_one_property()
    {
        await using var desk = await DeskWindow.OpenAsync(host: "localhost");
        FieldDesk.DoneWith(LeadsPassword + "\n", "people", desk.Data, "add", "Lead", "--role", "lead");
        List<string> wrong = [];
        await desk.Page.GotoAsync(desk.Address("/worklist"));
        Assert.EndsWith("/sign-in", desk.Page.Url, StringComparison.Ordinal);
        Assert.DoesNotContain("Windmills", await desk.Page.ContentAsync(), StringComparison.Ordinal);
        wrong.AddRange(await DeskLooks.LookAsync(desk, "sign-in"));
        await SignInAsync(desk, "Lead", "a wrong password");
        await desk.Page.GetByRole(Microsoft.Playwright.AriaRole.Alert).WaitForAsync();
        await SignInAsync(desk, "Lead", LeadsPassword);
        await desk.GoAsync("/");
        await desk.Page.GetByText("Two Windmills").First.WaitForAsync();

        await AddOwnerAsync(desk, OwnersPassword);
        foreach (var more in await desk.Page.Locator("summary").AllAsync()) await more.ClickAsync();
        wrong.AddRange(await DeskLooks.LookAsync(desk, "people-two"));
        await desk.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();

        await SignInAsync(desk, "owner", OwnersPassword);
        await desk.GoAsync("/");
        await desk.Page.Locator(".card").First.WaitForAsync();
        wrong.AddRange(await DeskLooks.LookAsync(desk, "own-land"));
        Assert.DoesNotContain("Thirteen", await desk.Page.ContentAsync(), StringComparison.Ordinal);
        Assert.Equal(1, await desk.Page.Locator("nav a").CountAsync());
        await desk.Page.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = "The page of Two Windmills, to read and print" }).ClickAsync();
        await desk.Page.GetByText("Two Windmills").First.WaitForAsync();
        await desk.PictureAsync("desk-own-page");
        await desk.GoAsync("/password");
        wrong.AddRange(await DeskLooks.LookAsync(desk, "password"));
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
        Assert.DoesNotContain(desk.Wrong, w => !w.Contains("403", StringComparison.Ordinal));
    }

    /// <summary>The browser's own stand-in for a phone's key store does what a finger on a sensor would.</summary>
    [Fact]
    public async Task A_passkey_made_on_ones_own_page_opens_the_desk_the_next_time()
    {
        await using var desk = await DeskWindow.OpenAsync(host: "localhost");
        FieldDesk.DoneWith(LeadsPassword + "\n", "people", desk.Data, "add", "Lead", "--role", "lead");
        var devices = await desk.Page.Context.NewCDPSessionAsync(desk.Page);
        await devices.SendAsync("WebAuthn.enable");
        await devices.SendAsync("WebAuthn.addVirtualAuthenticator", new() { ["options"] = new { protocol = "ctap2", transport = "internal", hasResidentKey = true, hasUserVerification = true, isUserVerified = true, automaticPresenceSimulation = true } });
        await desk.Page.GotoAsync(desk.Address("/sign-in"));
        await SignInAsync(desk, "Lead", LeadsPassword);
        await desk.GoAsync("/password");
        await desk.Page.Locator("#key-name").FillAsync("my phone");
        await desk.Page.Locator("#key-former").FillAsync("a wrong password");
        await desk.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Make a passkey on this device" }).ClickAsync();
        await desk.Page.GetByText("The password so far is wrong.").WaitForAsync();
        await desk.Page.Locator("#key-former").FillAsync(LeadsPassword);
        await desk.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Make a passkey on this device" }).ClickAsync();
        await desk.Page.GetByText("Never used.").WaitForAsync();
        var wrong = await DeskLooks.LookAsync(desk, "passkeys");
        await desk.PictureAsync("desk-passkeys");

        await desk.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Sign out" }).ClickAsync();
        await desk.Page.WaitForURLAsync("**/sign-in");
        await desk.PictureAsync("desk-sign-in");
        await desk.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Sign in with a passkey" }).ClickAsync();
        await desk.Page.GetByText("Two Windmills").First.WaitForAsync();
        Assert.True(wrong.Count == 0, string.Join('\n', wrong));
        Assert.DoesNotContain(desk.Wrong, w => !w.Contains("403", StringComparison.Ordinal));
    }

    /// <summary>A lead, signed in, gives the owner of one property an account.</summary>
    internal static async Task AddOwnerAsync(DeskWindow desk, string password)
    {
        await desk.GoAsync("/people");
        await desk.Page.Locator("form[action='/people/add'] #name").FillAsync("Owner");
        await desk.Page.Locator("form[action='/people/add'] input[value=landowner]").CheckAsync();
        await desk.Page.Locator("form[action='/people/add'] input[value='Two Windmills']").CheckAsync();
        await desk.Page.Locator("#first").FillAsync(password);
        await desk.Page.Locator("form[action='/people/add'] button").ClickAsync();
        await desk.Page.GetByText("The account was made.").WaitForAsync();
    }

    /// <summary>Sends the form of the page for signing in, and waits until it was answered: a page that is asked for before that would call it off.</summary>
    internal static async Task SignInAsync(DeskWindow desk, string name, string password)
    {
        await desk.Page.Locator("#name").FillAsync(name);
        await desk.Page.Locator("#password").FillAsync(password);
        await desk.Page.RunAndWaitForResponseAsync(() => desk.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = "Sign in", Exact = true }).ClickAsync(), r => r.Request.Method == "POST");
        await desk.Page.WaitForLoadStateAsync();
    }
}
