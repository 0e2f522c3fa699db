using System.Diagnostics;

namespace Tussock.Reports.Print;

/// <summary>Prints HTML to PDF with an installed browser, over its DevTools protocol: tagged, with an outline, fonts embedded, pages numbered.</summary>
/// <remarks>
/// One browser process prints any number of pages; it has a profile folder of its own that is gone afterwards, as is the process. The HTML comes
/// from a file that the browser opens, and the PDF comes back over the protocol: a sandboxed browser may not write anywhere.
/// </remarks>
public sealed class PdfPrinter : IAsyncDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);
    private readonly DirectoryInfo folder;
    private readonly Process process;
    private readonly DevTools tools;
    private int pages;

    private PdfPrinter(DirectoryInfo folder, Process process, DevTools tools) => (this.folder, this.process, this.tools) = (folder, process, tools);

    /// <summary>Starts a browser.</summary>
    /// <param name="browser">Path of its program, from <see cref="InstalledBrowser.Find"/>.</param>
    /// <param name="cancel">Stops waiting for it.</param>
    /// <exception cref="PdfException">It did not start, or did not answer in time.</exception>
    public static async Task<PdfPrinter> Start(string browser, CancellationToken cancel)
    {
        var scratch = Directory.CreateTempSubdirectory("tussock-print-");
        Process? started = null;
        try
        {
            started = Process.Start(HowToStart(browser, scratch.FullName)) ?? throw new PdfException("The browser did not start: " + browser);
            using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
            patience.CancelAfter(Patience);
            var address = await Address(started, patience.Token).ConfigureAwait(false);
            return new PdfPrinter(scratch, started, await DevTools.Connect(address, patience.Token).ConfigureAwait(false));
        }
        catch (Exception fault)
        {
            if (started is not null) Stop(started);
            Remove(scratch);
            if (fault is PdfException || cancel.IsCancellationRequested) throw;
            throw new PdfException("The browser did not answer: " + browser, fault);
        }
    }

    /// <summary>Prints one HTML file.</summary>
    /// <param name="html">The whole HTML, self-contained; its style names page size and margins.</param>
    /// <param name="footer">What the foot of each page says beside its number; empty: no foot.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <returns>The bytes of the PDF.</returns>
    /// <exception cref="PdfException">The browser refused, or did not answer in time.</exception>
    public async Task<byte[]> Print(string html, string footer, CancellationToken cancel)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        patience.CancelAfter(Patience);
        try
        {
            var file = Path.Combine(folder.FullName, "page-" + ++pages + ".html");
            await File.WriteAllTextAsync(file, html, patience.Token).ConfigureAwait(false);
            var target = await tools.Call("Target.createTarget", new { url = "about:blank" }, null, patience.Token).ConfigureAwait(false);
            var id = target.GetProperty("targetId").GetString();
            var attached = await tools.Call("Target.attachToTarget", new { targetId = id, flatten = true }, null, patience.Token).ConfigureAwait(false);
            var session = attached.GetProperty("sessionId").GetString();
            await tools.Call("Page.enable", new { }, session, patience.Token).ConfigureAwait(false);
            var loaded = tools.Next("Page.loadEventFired", session);
            await tools.Call("Page.navigate", new { url = new Uri(file).AbsoluteUri }, session, patience.Token).ConfigureAwait(false);
            await loaded.WaitAsync(patience.Token).ConfigureAwait(false);
            await tools.Call("Runtime.evaluate", new { expression = "document.fonts.ready.then(() => true)", awaitPromise = true }, session, patience.Token).ConfigureAwait(false);
            var printed = await tools.Call("Page.printToPDF", Settings(footer), session, patience.Token).ConfigureAwait(false);
            await tools.Call("Target.closeTarget", new { targetId = id }, null, patience.Token).ConfigureAwait(false);
            return printed.GetProperty("data").GetBytesFromBase64();
        }
        catch (Exception fault) when (fault is not PdfException && !cancel.IsCancellationRequested)
        {
            throw new PdfException("The browser did not print the page.", fault);
        }
    }

    /// <summary>Ends the browser and removes its folder.</summary>
    public async ValueTask DisposeAsync()
    {
        await tools.DisposeAsync().ConfigureAwait(false);
        Stop(process);
        Remove(folder);
    }

    private static object Settings(string footer) => new
    {
        printBackground = true,
        preferCSSPageSize = true,
        generateTaggedPDF = true,
        generateDocumentOutline = true,
        displayHeaderFooter = footer.Length > 0,
        headerTemplate = "<span></span>",
        footerTemplate = "<div style=\"font-family:sans-serif;font-size:7pt;color:#444;width:100%;padding:0 12mm;display:flex;justify-content:space-between\"><span>" + System.Net.WebUtility.HtmlEncode(footer)
            + "</span><span><span class=\"pageNumber\"></span> / <span class=\"totalPages\"></span></span></div>",
    };

    private static ProcessStartInfo HowToStart(string browser, string profile)
    {
        var start = new ProcessStartInfo(browser) { RedirectStandardError = true, RedirectStandardOutput = true, UseShellExecute = false };
        string[] words =
        [
            "--headless", "--remote-debugging-port=0", "--user-data-dir=" + Path.Combine(profile, "profile"), "--disable-gpu", "--disable-quic", "--no-first-run",
            "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-extensions", "--disable-dev-shm-usage", "--mute-audio", "about:blank",
        ];
        foreach (var word in words) start.ArgumentList.Add(word);
        // Chromium refuses to run its sandbox as root; only there it is left out.
        if (OperatingSystem.IsLinux() && Environment.UserName == "root") start.ArgumentList.Insert(0, "--no-sandbox");
        return start;
    }

    /// <summary>The address of the protocol, which the browser says on its standard error; what comes after it is drained, so that the browser never waits.</summary>
    private static async Task<Uri> Address(Process process, CancellationToken cancel)
    {
        const string Sign = "DevTools listening on ";
        process.OutputDataReceived += (_, _) => { };
        process.BeginOutputReadLine();
        while (await process.StandardError.ReadLineAsync(cancel).ConfigureAwait(false) is { } line)
        {
            if (!line.StartsWith(Sign, StringComparison.Ordinal)) continue;
            _ = process.StandardError.BaseStream.CopyToAsync(Stream.Null, CancellationToken.None);
            return new Uri(line[Sign.Length..].Trim());
        }

        throw new PdfException("The browser ended before it answered.");
    }

    private static void Stop(Process process)
    {
        using (process)
        {
            try
            {
                process.Kill(entireProcessTree: true);
                process.WaitForExit(5000);
            }
            catch (InvalidOperationException)
            {
                // It has ended by itself, which is all that was wanted.
            }
        }
    }

    /// <summary>A browser that is just ending may still hold its profile for a moment.</summary>
    private static void Remove(DirectoryInfo folder)
    {
        for (var attempt = 0; attempt < 10; attempt++)
        {
            try
            {
                folder.Delete(recursive: true);
                return;
            }
            catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
            {
                // Left for the operating system to clear when even the last attempt fails: it holds nothing but a printed page.
                Thread.Sleep(100);
            }
        }
    }
}
