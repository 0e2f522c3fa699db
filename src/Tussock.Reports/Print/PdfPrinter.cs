using System.Text.Json.Nodes;

namespace Tussock.Reports.Print;

/// <summary>Size of the paper in inches.</summary>
/// <param name="Width">Width.</param>
/// <param name="Height">Height.</param>
public readonly record struct Paper(double Width, double Height)
{
    /// <summary>US letter.</summary>
    public static Paper Letter => new(8.5, 11);

    /// <summary>ISO A4.</summary>
    public static Paper A4 => new(210 / 25.4, 297 / 25.4);
}

/// <summary>Prints pages to PDF by a browser: tagged, with bookmarks from the headings, page numbers and all fonts inside. The browser ends when disposed.</summary>
public sealed class PdfPrinter : IDisposable
{
    private readonly BrowserProcess browser;
    private readonly DevTools tools;

    private PdfPrinter(BrowserProcess browser, DevTools tools) => (this.browser, this.tools) = (browser, tools);

    /// <summary>Starts the browser.</summary>
    /// <param name="path">Its path, see <see cref="InstalledBrowser"/>.</param>
    /// <param name="cancel">Stops it.</param>
    /// <exception cref="BrowserException">It did not start or answer.</exception>
    public static async Task<PdfPrinter> StartAsync(string path, CancellationToken cancel)
    {
        var started = await BrowserProcess.StartAsync(path, cancel).ConfigureAwait(false);
        var connection = new DevTools();
        try
        {
            await connection.ConnectAsync(started.Address, cancel).ConfigureAwait(false);
            return new PdfPrinter(started, connection);
        }
        catch
        {
            connection.Dispose();
            started.Dispose();
            throw;
        }
    }

    /// <summary>Prints one page of a report.</summary>
    /// <param name="page">The page.</param>
    /// <param name="paper">The paper.</param>
    /// <param name="cancel">Stops it.</param>
    /// <returns>The PDF file. The page goes in and the PDF comes out over the protocol, since a sandboxed browser may reach no file of ours.</returns>
    /// <exception cref="BrowserException">The browser refused, or did not answer in time.</exception>
    public async Task<byte[]> PrintAsync(ReportPage page, Paper paper, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(page);
        var target = (string)(await tools.AskAsync("Target.createTarget", new JsonObject { ["url"] = "about:blank" }, null, cancel).ConfigureAwait(false))["targetId"]!;
        var session = (string)(await tools.AskAsync("Target.attachToTarget", new JsonObject { ["targetId"] = target, ["flatten"] = true }, null, cancel).ConfigureAwait(false))["sessionId"]!;
        var tree = await tools.AskAsync("Page.getFrameTree", [], session, cancel).ConfigureAwait(false);
        await tools.AskAsync("Page.setDocumentContent", new JsonObject { ["frameId"] = (string)tree["frameTree"]!["frame"]!["id"]!, ["html"] = page.Html }, session, cancel).ConfigureAwait(false);
        await tools.AskAsync("Runtime.evaluate", new JsonObject { ["expression"] = "document.body.offsetHeight, document.fonts.ready.then(() => true)", ["awaitPromise"] = true }, session, cancel).ConfigureAwait(false);
        var printed = await tools.AskAsync("Page.printToPDF", Options(page, paper), session, cancel).ConfigureAwait(false);
        await tools.AskAsync("Target.closeTarget", new JsonObject { ["targetId"] = target }, null, cancel).ConfigureAwait(false);
        return Convert.FromBase64String((string?)printed["data"] ?? throw new BrowserException("Page.printToPDF: nothing came"));
    }

    public void Dispose()
    {
        tools.Dispose();
        browser.Dispose();
    }

    private static JsonObject Options(ReportPage page, Paper paper) => new()
    {
        ["printBackground"] = true,
        ["preferCSSPageSize"] = true,
        ["paperWidth"] = paper.Width,
        ["paperHeight"] = paper.Height,
        ["generateTaggedPDF"] = true,
        ["generateDocumentOutline"] = true,
        ["displayHeaderFooter"] = true,
        ["headerTemplate"] = "<span></span>",
        ["footerTemplate"] = "<style>" + Sheet.FooterFont + "</style><div style=\"font:7.5pt 'Source Sans 3',sans-serif;color:#333;width:100%;margin:0 36pt;display:flex;justify-content:space-between\"><span>"
            + Html.Escaped(page.Footer) + "</span><span><span class=\"pageNumber\"></span> / <span class=\"totalPages\"></span></span></div>",
    };
}
