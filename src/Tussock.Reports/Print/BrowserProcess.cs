using System.Diagnostics;

namespace Tussock.Reports.Print;

/// <summary>A browser without a window, with a profile of its own; ends, and its profile goes, when disposed.</summary>
internal sealed class BrowserProcess : IDisposable
{
    private const string Announcement = "DevTools listening on ";
    private static readonly TimeSpan StartPatience = TimeSpan.FromSeconds(45);
    private readonly Process process;
    private readonly string profile;

    private BrowserProcess(Process process, string profile) => (this.process, this.profile) = (process, profile);

    /// <summary>Address of the browser's DevTools.</summary>
    internal Uri Address { get; private set; } = null!;

    /// <summary>Starts a browser and waits until it announces its address.</summary>
    /// <exception cref="BrowserException">It did not start in time.</exception>
    internal static async Task<BrowserProcess> StartAsync(string path, CancellationToken cancel)
    {
        var own = Directory.CreateTempSubdirectory("tussock-print-").FullName;
        var start = new ProcessStartInfo(path) { RedirectStandardError = true, RedirectStandardOutput = true, UseShellExecute = false };
        foreach (var flag in Flags(own)) start.ArgumentList.Add(flag);
        BrowserProcess? browser = null;
        try
        {
            var started = Process.Start(start) ?? throw new BrowserException("no process");
            browser = new BrowserProcess(started, own);
            started.OutputDataReceived += (_, _) => { };
            started.BeginOutputReadLine();
            browser.Address = await browser.AnnouncedAsync(cancel).ConfigureAwait(false);
            return browser;
        }
        catch (Exception fault)
        {
            if (browser is not null) browser.Dispose();
            else Remove(own);
            if (fault is System.ComponentModel.Win32Exception) throw new BrowserException(fault.Message, fault);
            throw;
        }
    }

    public void Dispose()
    {
        try
        {
            if (!process.HasExited) process.Kill(entireProcessTree: true);
            process.WaitForExit(10_000);
        }
        catch (InvalidOperationException)
        {
            // It ended by itself between the question and the act: what was wanted.
        }

        process.Dispose();
        Remove(profile);
    }

    private static IEnumerable<string> Flags(string profile)
    {
        string[] flags =
        [
            "--headless=new", "--remote-debugging-port=0", "--user-data-dir=" + profile, "--disable-gpu", "--disable-quic", "--no-first-run", "--no-default-browser-check",
            "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-extensions", "--disable-dev-shm-usage", "--mute-audio", "about:blank",
        ];
        // Its sandbox does not start as root; everyone else keeps it.
        return !OperatingSystem.IsWindows() && Environment.IsPrivilegedProcess ? flags.Prepend("--no-sandbox") : flags;
    }

    private async Task<Uri> AnnouncedAsync(CancellationToken cancel)
    {
        var announced = new TaskCompletionSource<Uri>(TaskCreationOptions.RunContinuationsAsynchronously);
        process.ErrorDataReceived += (_, said) =>
        {
            if (said.Data is null) announced.TrySetException(new BrowserException("it ended at once"));
            else if (said.Data.StartsWith(Announcement, StringComparison.Ordinal)) announced.TrySetResult(new Uri(said.Data[Announcement.Length..].Trim()));
        };
        process.BeginErrorReadLine();
        try
        {
            return await announced.Task.WaitAsync(StartPatience, cancel).ConfigureAwait(false);
        }
        catch (TimeoutException late)
        {
            throw new BrowserException("no answer after " + Words.Numbers.Whole((long)StartPatience.TotalSeconds) + " s", late);
        }
    }

    private static void Remove(string profile)
    {
        for (var attempt = 0; attempt < 5; attempt++)
        {
            try
            {
                if (Directory.Exists(profile)) Directory.Delete(profile, recursive: true);
                return;
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                // The last of its processes may still be closing a file; a profile that stays behind holds nothing of the season.
                Thread.Sleep(100);
            }
        }
    }
}
