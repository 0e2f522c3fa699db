using Tussock.Pictures;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Years;

namespace Tussock.Reports.Landowner;

/// <summary>The last page of a landowner's file where the land has other years: survival year by year, and what the newest says against the one before.</summary>
internal static class YearsStrip
{
    /// <summary>The property and this many of its pastures have room on a page.</summary>
    private const int MostOnAPage = 5;

    internal static void Write(Html html, string property, LandYears[] lands)
    {
        // Where there is one pasture it is the property.
        var shown = (lands.Length == 2 ? lands[..1] : lands).Where(l => l.Years.Length > 1);
        foreach (var some in shown.Chunk(MostOnAPage))
        {
            html.Open("main", "class=\"page years\"").Open("header").Element("h1", Phrase.Of("report.years_head", ("property", property)), "class=\"where\"").Close("header");
            foreach (var land in some) Land(html, land);
            html.Open("footer");
            foreach (var said in YearSentences.Always) html.Paragraph(said);
            html.Close("footer").Close("main");
        }
    }

    private static void Land(Html html, LandYears land)
    {
        html.Open("section").Element("h2", land.Pasture ?? land.Property).Picture(YearsPicture.Strip(land, html.Words));
        if (land.Steps.FirstOrDefault(s => s.After == land.Years[^1]) is { } step)
        {
            foreach (var first in step.First) html.Paragraph(first, "class=\"first\"");
            html.Paragraph(YearSentences.Of(step)[0]);
        }

        html.Close("section");
    }
}
