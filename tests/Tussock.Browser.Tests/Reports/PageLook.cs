using Microsoft.Playwright;
using Tussock.Reports;
using Tussock.Reports.Print;
using Xunit;

namespace Tussock.Browser.Tests.Reports;

/// <summary>Looks at pages as a reader does: is anything cut off, is anything on top of something else.</summary>
internal static class PageLook
{
    /// <summary>Elements that are wider or higher than their place, and neighbours in a page's column that overlap.</summary>
    private const string WhatIsWrong = """
        () => {
          const wrong = [];
          const say = e => e.tagName + '.' + e.className + ' ' + e.textContent.trim().slice(0, 40);
          for (const e of document.querySelectorAll('.page, .page div, .page section, .page header, .page footer, p, li, h1, h2, h3, td, th')) {
            if (e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0) wrong.push('wide: ' + say(e));
          }
          for (const page of document.querySelectorAll('.page')) {
            if (page.scrollHeight > page.clientHeight + 1) wrong.push('high: ' + page.scrollHeight + ' in ' + page.clientHeight);
            const parts = [...page.querySelectorAll('p, li, h1, h2, figure')].filter(e => !e.querySelector('p, li')).map(e => [e, e.getBoundingClientRect()]);
            for (let i = 0; i < parts.length; i++) for (let j = i + 1; j < parts.length; j++) {
              const [a, b] = [parts[i][1], parts[j][1]];
              const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left), high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
              if (wide > 2 && high > 2 && !parts[i][0].contains(parts[j][0])) wrong.push('over: ' + say(parts[i][0]) + ' / ' + say(parts[j][0]));
            }
          }
          return wrong.slice(0, 8);
        }
        """;

    /// <summary>Holds one page, as it is printed, against all of that.</summary>
    internal static async Task NothingIsWrongAsync(IBrowser browser, ReportPage sheet)
    {
        var page = await browser.NewPageAsync();
        await page.SetContentAsync(sheet.Html);
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        var wrong = await page.EvaluateAsync<string[]>(WhatIsWrong);
        Assert.True(wrong.Length == 0, sheet.Name + ": " + string.Join("; ", wrong));
        await page.CloseAsync();
    }

    internal static Task<IBrowser> Browser(IPlaywright playwright) =>
        playwright.Chromium.LaunchAsync(new() { ExecutablePath = InstalledBrowser.Find(), Args = ["--no-sandbox", "--disable-gpu"] });
}
