using Microsoft.Playwright;
using Tussock.Browser.Tests.Reports;
using Tussock.Reports.Print;

namespace Tussock.Browser.Tests.Field;

/// <summary>A phone with the app open: a real browser at phone size, its clock and place in the hands of the test.</summary>
internal sealed class Phone : IAsyncDisposable
{
    private readonly IPlaywright driver;
    private readonly IBrowser? opened;

    /// <param name="playwright">What drives the browser.</param>
    /// <param name="browser">The browser; null where its context is all of it.</param>
    /// <param name="context">The phone.</param>
    /// <param name="page">The page with the app.</param>
    private Phone(IPlaywright playwright, IBrowser? browser, IBrowserContext context, IPage page)
    {
        (driver, opened, Context, Page) = (playwright, browser, context, page);
        Listen(page);
    }

    internal IBrowserContext Context { get; }

    internal IPage Page { get; private set; }

    /// <summary>What went wrong on the page.</summary>
    internal List<string> Wrong { get; } = [];

    internal static async Task<Phone> OpenAsync(string address, string? now = "2026-05-04T14:00:00Z", int width = 390, int height = 844, ColorScheme scheme = ColorScheme.Light, bool isReady = true)
    {
        var playwright = await Playwright.CreateAsync();
        var browser = await PageLook.Browser(playwright);
        var context = await browser.NewContextAsync(new()
        {
            ViewportSize = new() { Width = width, Height = height }, HasTouch = true, IsMobile = true, ColorScheme = scheme, TimezoneId = "America/Chicago", Locale = "en-US",
            Geolocation = new() { Latitude = 31.4512f, Longitude = -99.2034f, Accuracy = 4 }, Permissions = ["geolocation"], AcceptDownloads = true,
        });
        if (now is not null) await context.Clock.SetFixedTimeAsync(now);
        var page = await context.NewPageAsync();
        var phone = new Phone(playwright, browser, context, page);
        await page.GotoAsync(address);
        if (isReady) await phone.ReadyAsync();
        return phone;
    }

    /// <summary>A phone of its own, not a window that forgets: for what the browser grants to lasting profiles alone.</summary>
    /// <param name="home">Folder of the phone's owner, with the certificates that the phone trusts.</param>
    /// <param name="host">A name that leads to this computer.</param>
    internal static async Task<Phone> LastingAsync(string home, string host)
    {
        var playwright = await Playwright.CreateAsync();
        var environment = Environment.GetEnvironmentVariables().Cast<System.Collections.DictionaryEntry>().ToDictionary(e => (string)e.Key, e => (string?)e.Value ?? "", StringComparer.Ordinal);
        environment["HOME"] = home;
        var context = await playwright.Chromium.LaunchPersistentContextAsync(Path.Combine(home, "profile"), new()
        {
            ExecutablePath = InstalledBrowser.Find(), Args = ["--no-sandbox", "--disable-gpu", "--host-resolver-rules=MAP " + host + " 127.0.0.1"], Env = environment,
            ViewportSize = new() { Width = 390, Height = 844 }, HasTouch = true, IsMobile = true, TimezoneId = "America/Chicago", Locale = "en-US",
            Geolocation = new() { Latitude = 31.4512f, Longitude = -99.2034f, Accuracy = 4 }, Permissions = ["geolocation"],
        });
        return new Phone(playwright, null, context, context.Pages[0]);
    }

    /// <summary>The page is gone in the middle of it, and opened again: only what is on the disk is there.</summary>
    internal async Task DieAsync(string address)
    {
        await Page.CloseAsync(new() { RunBeforeUnload = false });
        Listen(Page = await Context.NewPageAsync());
        await Page.GotoAsync(address);
        await ReadyAsync();
    }

    private void Listen(IPage page)
    {
        page.PageError += (_, fault) => Wrong.Add(fault);
        page.Console += (_, message) => { if (message.Type == "error" && !message.Text.Contains("Failed to load resource", StringComparison.Ordinal)) Wrong.Add(message.Text); };
        page.SetDefaultTimeout(20000);
    }

    internal Task ReadyAsync() => Page.WaitForFunctionAsync("() => document.documentElement.dataset.ready === 'yes'");

    internal async Task PairAsync(string name = "crew 1's phone", string code = "")
    {
        if (code.Length > 0) await Page.FillAsync("#code", code);
        await Page.FillAsync("#phone-name", name);
        await Page.ClickAsync("#pair");
        await Page.WaitForSelectorAsync("#due");
    }

    /// <summary>The app is kept on the phone, whole.</summary>
    internal Task KeptAsync() => Page.WaitForFunctionAsync("async () => !!navigator.serviceWorker.controller && !!(await caches.match(new URL('files.json', location.href.split('#')[0]).href))");

    internal async Task ReloadAsync()
    {
        await Page.ReloadAsync();
        await ReadyAsync();
    }

    internal Task ClockAsync(string now) => Context.Clock.SetFixedTimeAsync(now);

    internal async Task GoAsync(params string[] route)
    {
        await Page.EvaluateAsync("r => { location.hash = '#/' + r.map(encodeURIComponent).join('/'); }", route);
        await Page.WaitForFunctionAsync("name => document.getElementById('main').className === name", route[0]);
    }

    internal Task TapAsync(string id) => Page.ClickAsync("#" + id);

    /// <summary>Goes by the Tab key until a control has the keys, as somebody does who has no other way.</summary>
    internal async Task TabToAsync(string id)
    {
        for (var turn = 0; turn < 120; turn++)
        {
            if (await FocusedAsync("id") == id) return;
            await Page.Keyboard.PressAsync("Tab");
        }

        throw new InvalidOperationException($"{id} can't be reached by Tab");
    }

    /// <summary>Goes to a control by Tab and presses a key there.</summary>
    internal async Task PressAsync(string id, string key = "Enter")
    {
        await Page.WaitForSelectorAsync("#" + id);
        await TabToAsync(id);
        await Page.Keyboard.PressAsync(key);
    }

    internal Task<string> FocusedAsync(string what) => Page.EvaluateAsync<string>("what => document.activeElement?.[what] ?? ''", what);

    /// <summary>Fills a field and leaves it: its text is taken then.</summary>
    internal async Task WriteAsync(string id, string text)
    {
        await Page.FillAsync("#" + id, text);
        await Page.DispatchEventAsync("#" + id, "change");
        await SettledAsync();
    }

    internal async Task HoldAsync(string id, int milliseconds = 700)
    {
        await Page.Locator("#" + id).ScrollIntoViewIfNeededAsync();
        var box = (await Page.Locator("#" + id).BoundingBoxAsync())!;
        await Page.Mouse.MoveAsync(box.X + (box.Width / 2), box.Y + (box.Height / 2));
        await Page.Mouse.DownAsync();
        await Page.WaitForTimeoutAsync(milliseconds);
        await Page.Mouse.UpAsync();
    }

    /// <summary>Waits until what was touched is on the disk and drawn.</summary>
    internal Task SettledAsync() => Page.EvaluateAsync("() => new Promise(r => setTimeout(() => requestAnimationFrame(() => r()), 30))");

    internal Task<string> TextAsync(string id) => Page.InnerTextAsync("#" + id);

    internal Task WaitForAsync(string id, string text) => Page.WaitForFunctionAsync("([id, text]) => document.getElementById(id)?.textContent.includes(text)", new[] { id, text });

    internal async Task SendAsync()
    {
        await GoAsync("phone");
        await TapAsync("send-now");
        await WaitForAsync("unsent", "at the desk");
    }

    internal async Task PictureAsync(string name)
    {
        if (Environment.GetEnvironmentVariable("TUSSOCK_LOOK") is { Length: > 0 } folder) await Page.ScreenshotAsync(new() { Path = Path.Combine(folder, name + ".png"), FullPage = false });
    }

    public async ValueTask DisposeAsync()
    {
        await Context.CloseAsync();
        if (opened is not null) await opened.CloseAsync();
        driver.Dispose();
    }
}
