using Microsoft.Playwright;
using Tussock.Browser.Tests.Field;
using Tussock.Browser.Tests.Reports;
using Xunit;

namespace Tussock.Browser.Tests.Desk;

/// <summary>A desk that serves the built-in season, and a window on it.</summary>
internal sealed class DeskWindow : IAsyncDisposable
{
    private readonly FieldDesk desk;
    private readonly IPlaywright driver;
    private readonly IBrowser browser;

    private DeskWindow(FieldDesk desk, IPlaywright playwright, IBrowser opened, IPage page)
    {
        (this.desk, driver, browser, Page) = (desk, playwright, opened, page);
        page.PageError += (_, fault) => Wrong.Add(fault);
        page.Console += (_, message) => { if (message.Type == "error") Wrong.Add(message.Text); };
        page.SetDefaultTimeout(20000);
    }

    internal IPage Page { get; }

    internal string Data => desk.Data;

    /// <summary>What went wrong on the pages.</summary>
    internal List<string> Wrong { get; } = [];

    /// <summary>Opens a window on a desk with the built-in season, or with another; with a host, open to the network; with the address of an empty database, from there; with further words behind <c>serve</c>.</summary>
    internal static async Task<DeskWindow> OpenAsync(IReadOnlyDictionary<string, string>? season = null, int width = 1280, int height = 900, string? host = null, string? data = null, params string[] more)
    {
        var served = new FieldDesk(season ?? Demo(), host, data, more);
        var playwright = await Playwright.CreateAsync();
        var window = await PageLook.Browser(playwright);
        var context = await window.NewContextAsync(new() { ViewportSize = new() { Width = width, Height = height }, TimezoneId = "America/Chicago", Locale = "en-US", AcceptDownloads = true, IgnoreHTTPSErrors = host is not null });
        return new DeskWindow(served, playwright, window, await context.NewPageAsync());
    }

    /// <summary>Goes to a page of the desk, and waits until its answer is no longer on its way.</summary>
    internal async Task GoAsync(string path)
    {
        await Page.GotoAsync(Address(path));
        await Page.WaitForFunctionAsync("() => document.body.dataset.answer === document.body.dataset.position && !document.querySelector('[data-again]')");
    }

    internal string Address(string path) => desk.Address[..^"/field/".Length] + path;

    /// <summary>A picture of the window for whoever wants to look, when TUSSOCK_LOOK names a folder.</summary>
    internal async Task PictureAsync(string name)
    {
        if (Environment.GetEnvironmentVariable("TUSSOCK_LOOK") is { Length: > 0 } folder) await Page.ScreenshotAsync(new() { Path = Path.Combine(folder, name + ".png"), FullPage = true });
    }

    public async ValueTask DisposeAsync()
    {
        await browser.CloseAsync();
        driver.Dispose();
        desk.Dispose();
    }

    private static Dictionary<string, string> Demo()
    {
        var folder = Directory.CreateTempSubdirectory("tussock-demo-").FullName;
        try
        {
            var season = Path.Combine(folder, "season");
            FieldDesk.Done("demo", season);
            return Directory.GetFiles(season).ToDictionary(f => Path.GetFileName(f), File.ReadAllText, StringComparer.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
