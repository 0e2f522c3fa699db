namespace Tussock.Reports.Print;

/// <summary>Finds an installed browser of the Chromium family.</summary>
public static class InstalledBrowser
{
    private const string Chosen = "TUSSOCK_BROWSER";
    private static readonly string[] Names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge", "microsoft-edge-stable", "chrome", "msedge"];

    private static readonly string[] UsualPlaces =
    [
        "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome", "/Applications/Chromium.app/Contents/MacOS/Chromium", "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
        @"C:\Program Files\Google\Chrome\Application\chrome.exe", @"C:\Program Files (x86)\Google\Chrome\Application\chrome.exe", @"C:\Program Files (x86)\Microsoft\Edge\Application\msedge.exe", @"C:\Program Files\Microsoft\Edge\Application\msedge.exe",
    ];

    /// <summary>Path of the browser that TUSSOCK_BROWSER names, else of the first one found; null when there is none.</summary>
    /// <remarks>A named browser that is not there is none: another one would be a surprise.</remarks>
    public static string? Find()
    {
        var named = Environment.GetEnvironmentVariable(Chosen);
        if (!string.IsNullOrWhiteSpace(named)) return Located(named);
        return Names.Select(Located).FirstOrDefault(p => p is not null) ?? UsualPlaces.FirstOrDefault(File.Exists);
    }

    private static string? Located(string name)
    {
        if (name.AsSpan().IndexOfAny('/', '\\') >= 0) return File.Exists(name) ? name : null;
        var folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries);
        string[] endings = OperatingSystem.IsWindows() ? [".exe"] : [""];
        return folders.SelectMany(f => endings.Select(e => Path.Combine(f, name + e))).FirstOrDefault(File.Exists);
    }
}
