namespace Tussock.Reports.Print;

/// <summary>Finds a browser of the Chromium family on this computer.</summary>
public static class InstalledBrowser
{
    /// <summary>Environment variable that names the browser's program, before anything else is looked for.</summary>
    public const string Override = "TUSSOCK_BROWSER";

    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "microsoft-edge", "msedge"];

    private static readonly string[] Places =
    [
        "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
        "/Applications/Chromium.app/Contents/MacOS/Chromium",
        "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
        @"C:\Program Files\Google\Chrome\Application\chrome.exe",
        @"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe",
        @"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe",
        @"C:\Program Files\Microsoft\Edge\Application\msedge.exe",
    ];

    /// <summary>Path of the browser's program; null when there is none.</summary>
    public static string? Find()
    {
        var chosen = Environment.GetEnvironmentVariable(Override);
        if (!string.IsNullOrWhiteSpace(chosen)) return File.Exists(chosen) ? chosen : null;
        var folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries);
        foreach (var name in Names)
        {
            foreach (var folder in folders)
            {
                var path = Path.Combine(folder, OperatingSystem.IsWindows() ? name + ".exe" : name);
                if (File.Exists(path)) return path;
            }
        }

        return Array.Find(Places, File.Exists);
    }
}
