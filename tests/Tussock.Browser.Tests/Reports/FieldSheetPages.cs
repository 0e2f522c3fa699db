using System.Collections.Immutable;
using Microsoft.Playwright;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Reports.Print;
using Tussock.Reports.Sheets;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Browser.Tests.Reports;

[Collection("browser")]
public sealed class FieldSheetPages
{
    private static ImmutableArray<ReportPage> Sheets { get; } = FieldSheets.Of(SeasonReading.Read(DemoSeason.Write(1), out _)!, new ReportMaking("0.0.0", 1, new DateOnly(2026, 5, 1), null), new Uri("https://field.example:5081/field/"), Catalogue.English);

    [Fact]
    public async Task Nothing_on_a_sheet_is_cut_off_or_on_top_of_something_else()
    {
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await PageLook.Browser(playwright);
        foreach (var sheet in Sheets) await PageLook.NothingIsWrongAsync(browser, sheet);
    }

    [Fact]
    public async Task Each_sheet_is_one_page_of_paper_on_letter_and_on_a4()
    {
        var stop = TestContext.Current.CancellationToken;
        using var printer = await PdfPrinter.StartAsync(InstalledBrowser.Find()!, stop);
        foreach (var sheet in Sheets.Where(s => s.Name is "sheet-set-out" or "sheet-remains" or "sheet-supplies-and-safety" or "sheet-permission-and-care"))
        {
            foreach (var paper in (Paper[])[Paper.Letter, Paper.A4])
            {
                var file = Path.GetTempFileName();
                await File.WriteAllBytesAsync(file, await printer.PrintAsync(sheet, paper, stop), stop);
                var sheets = sheet.Html.Split("<main class=\"page").Length - 1;
                Assert.Matches(@"Pages:\s+" + sheets + @"\b", Poppler.Run("pdfinfo", file));
                File.Delete(file);
            }
        }
    }
}
