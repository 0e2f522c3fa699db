using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using Microsoft.Playwright;
using Tussock.Reports.Print;

namespace Tussock.Browser.Tests.Field.Faults;

/// <summary>A browser with a profile on disk that acts out fault stories, can be killed as a phone dies, and opens again with what was on the disk.</summary>
internal sealed class KillableBrowser : IAsyncDisposable
{
    private const int StoriesAtOnce = 3;
    private readonly FieldDesk desk;
    private readonly IPlaywright driver;
    private readonly string profile;
    private readonly ConcurrentDictionary<Guid, bool> told = new();
    private readonly ConcurrentDictionary<string, bool> photos = new();
    private readonly ConcurrentDictionary<int, bool> ended = new();
    private IBrowserContext? context;
    private IPage? page;
    private int files;

    private KillableBrowser(FieldDesk desk, IPlaywright driver)
    {
        (this.desk, this.driver) = (desk, driver);
        profile = Directory.CreateDirectory(desk.At("profile")).FullName;
    }

    /// <summary>Every change that a phone said was on its disk.</summary>
    internal ICollection<Guid> Told => told.Keys;

    internal ICollection<string> Photos => photos.Keys;

    internal ICollection<int> Ended => ended.Keys;

    /// <summary>How often records came as a file.</summary>
    internal int Files => files;

    internal static async Task<KillableBrowser> OpenAsync(FieldDesk desk)
    {
        var browser = new KillableBrowser(desk, await Playwright.CreateAsync());
        await browser.StartAsync();
        return browser;
    }

    /// <summary>Acts stories; what went wrong.</summary>
    internal Task<string[]> ActAsync(int from, int to) => page!.EvaluateAsync<string[]>("([from, to, atOnce]) => stories.act(from, to, atOnce)", new[] { from, to, StoriesAtOnce });

    internal Task<string> MendAsync(int seed) => page!.EvaluateAsync<string>("seed => stories.mend(seed)", seed);

    /// <summary>What a phone sees that never was here.</summary>
    internal Task<string> FreshAsync() => page!.EvaluateAsync<string>("() => stories.fresh()");

    /// <summary>Kills every process of the browser at once, then opens it again on the same disk.</summary>
    internal async Task KillAsync(Task acting)
    {
        foreach (var process in Process.GetProcesses().Where(IsOurs)) process.Kill();
        try
        {
            await acting;
        }
        catch (PlaywrightException)
        {
            // The page died with its browser, as it was meant to.
        }

        await StartAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (context is not null) await context.CloseAsync();
        driver.Dispose();
    }

    private async Task StartAsync()
    {
        // Workers of the app's own modules are made from a text here, which its policy would not let a page do.
        context = await driver.Chromium.LaunchPersistentContextAsync(profile, new() { ExecutablePath = InstalledBrowser.Find(), Args = ["--no-sandbox", "--disable-gpu"], BypassCSP = true });
        page = context.Pages[0];
        page.SetDefaultTimeout(0);
        await page.ExposeFunctionAsync("told", (string[] ids) => { foreach (var id in ids) told[Guid.Parse(id)] = true; });
        await page.ExposeFunctionAsync("pictured", (string photo) => { photos[photo] = true; });
        await page.ExposeFunctionAsync("ended", (int seed) => { ended[seed] = true; });
        await page.ExposeFunctionAsync("brought", (string text) => Task.Run(() => Bring(text)));
        await page.GotoAsync(desk.Address);
        var seeded = await File.ReadAllTextAsync(Script("seeded.js"));
        await page.EvaluateAsync(seeded);
        await page.EvaluateAsync("text => { window.phoneWorker = text; }", seeded + await File.ReadAllTextAsync(Script("phone-worker.js")));
        await page.EvaluateAsync(await File.ReadAllTextAsync(Script("stories.js")));
    }

    /// <summary>Takes a phone's file in while the desk serves.</summary>
    private void Bring(string text)
    {
        var file = desk.At(string.Create(CultureInfo.InvariantCulture, $"phone-{Interlocked.Increment(ref files)}.jsonl"));
        File.WriteAllText(file, text);
        FieldDesk.Done("import", desk.Data, file);
    }

    private bool IsOurs(Process process)
    {
        try
        {
            return File.ReadAllText(string.Create(CultureInfo.InvariantCulture, $"/proc/{process.Id}/cmdline")).Contains(profile, StringComparison.Ordinal);
        }
        catch (IOException)
        {
            // It ended while we looked.
            return false;
        }
    }

    private static string Script(string name) => Path.Combine(AppContext.BaseDirectory, "Field", "Faults", name);
}
