using System.Globalization;
using Tussock.Pictures;
using Tussock.Records;
using Tussock.Reports.Print;
using Tussock.Words;

namespace Tussock.Reports.Sheets;

/// <summary>What all sheets share: the head of a page, boxes to tick and lines to write on.</summary>
internal static class SheetParts
{
    /// <summary>Begins a page: transect, pasture, dates, a code that opens the transect in the app, and the rose where directions are written.</summary>
    internal static void Head(Html html, WalkedLine line, string title, (int Page, int Pages) page, Phrase? dates, bool hasRose)
    {
        html.Open("main", "class=\"page\"").Open("header", hasRose ? "class=\"with-rose\"" : "").Open("div");
        html.Element("h1", Phrase.Of("sheets.head", ("transect", line.Transect.Name), ("title", html.Words.Say(title))));
        html.Element("p", Phrase.Of("sheets.where", ("pasture", line.Transect.Pasture.Name), ("property", line.Transect.Pasture.Property)), "class=\"where\"");
        if (dates is not null) html.Element("p", dates, "class=\"dates\"");
        if (page.Pages > 1) html.Element("p", Phrase.Of("sheets.page_of", ("page", page.Page), ("pages", page.Pages)));
        html.Close("div");
        if (hasRose) html.Raw("<div class=\"rose\">" + CompassRose.Draw(116, html.Words) + "</div>");
        Code(html, line);
        html.Close("header");
    }

    /// <summary>A line to write on, with its word before it.</summary>
    internal static Html Line(this Html html, string key, string width = "") =>
        html.Open("span", "class=\"write\"" + (width.Length > 0 ? " style=\"flex:" + width + "\"" : "")).Text(html.Words.Say(key)).Raw("<i></i>").Close("span");

    /// <summary>A filled line: what the season knows already.</summary>
    internal static Html Known(this Html html, string key, string value, string width = "") => value.Length == 0 ? html.Line(key, width)
        : html.Open("span", "class=\"write known\"" + (width.Length > 0 ? " style=\"flex:" + width + "\"" : "")).Text(html.Words.Say(key)).Element("b", value).Close("span");

    /// <summary>A box to tick with its word behind it.</summary>
    internal static Html Box(this Html html, string text) => html.Raw("<span class=\"tick\"><i></i>" + Html.Escaped(text) + "</span>");

    internal static Html BoxOf(this Html html, string key) => html.Box(html.Words.Say(key));

    /// <summary>A box with a drawing behind it.</summary>
    internal static Html BoxOfPicture(this Html html, string svg) => html.Raw("<span class=\"tick\"><i></i>" + svg + "</span>");

    /// <summary>A word with several small boxes: eggs set, for example.</summary>
    internal static Html Boxes(this Html html, string key, int count) =>
        html.Raw("<span class=\"tick\">" + Html.Escaped(html.Words.Say(key)) + string.Concat(Enumerable.Repeat("<i></i>", count)) + "</span>");

    /// <summary>Directions to tick: which way it was taken.</summary>
    internal static Html SenseBoxes(this Html html) => html.BoxOfPicture(CompassRose.Sense(true, html.Words)).BoxOfPicture(CompassRose.Sense(false, html.Words));

    internal static string Date(Html html, DateOnly on) => html.Words.Say("sheets.weekday." + Numbers.Whole((int)on.DayOfWeek)) + " " + Numbers.Date(on, html.Words);

    internal static string Number(double? value) => value is { } number ? number.ToString("0.###", CultureInfo.InvariantCulture) : "";

    private static void Code(Html html, WalkedLine line)
    {
        if (line.App is not { } app) return;
        var address = new Uri(app, "#/transect/" + Uri.EscapeDataString(line.Transect.Name)).ToString();
        html.Open("div", "class=\"code\"").Raw(QrCode.Draw(address, 74, html.Words)).Element("span", html.Words.Say("sheets.code")).Close("div");
    }
}
