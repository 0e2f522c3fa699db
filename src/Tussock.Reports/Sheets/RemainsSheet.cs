using Tussock.Evidence;
using Tussock.Pictures;
using Tussock.Reports.Print;

namespace Tussock.Reports.Sheets;

/// <summary>What a lost nest shows: drawn signs with boxes for four nests, side by side.</summary>
internal static class RemainsSheet
{
    private const string Nests = "ABCD";

    /// <summary>Signs that get drawings; the others have a line of their own, since nothing is known of what they tell.</summary>
    private static readonly string[] Left = ["shell_present", "fragment_size", "fragment_spread", "opening", "edges"], Right = ["bite", "peck_holes", "yolk_left", "rooting", "bowl", "tracks", "scat", "hair"];

    internal static void Write(Html html, WalkedLine line)
    {
        SheetParts.Head(html, line, "sheets.remains", (1, 1), null, hasRose: false);
        html.Open("div", "class=\"fill\"").Line("sheets.date", "1.6").Line("sheets.observer", "1.4");
        foreach (var nest in Nests) html.Open("span", "class=\"write\"").Text(html.Words.Say(Phrase.Of("sheets.nest_column", ("letter", nest.ToString())))).Raw("<i></i>").Close("span");
        html.Close("div").Element("p", html.Words.Say("sheets.remains_how"), "class=\"how\"").Open("div", "class=\"signs\"");
        foreach (var column in (ReadOnlySpan<string[]>)[Left, Right])
        {
            html.Open("div");
            foreach (var name in column) Sign(html, SignCatalogue.Standard.Signs.Single(s => s.Sign == name));
            html.Close("div");
        }

        html.Close("div").Open("div", "class=\"fill\"").Line("sheets.eggs_gone_of").Line("sheets.hoof_and_other", "2").Line("sheets.photo", "1.2").Line("sheets.crew_guess", "1.4").Close("div");
        html.Element("p", html.Words.Say("sheets.remains_care"), "class=\"care\"").Close("main");
    }

    private static void Sign(Html html, CatalogueSign sign)
    {
        html.Open("table", "class=\"sign\"").Open("thead").Open("tr").Element("th", html.Say(sign.Name), "colspan=\"2\"");
        foreach (var nest in Nests) html.Element("th", nest.ToString(), "class=\"nest\"");
        html.Close("tr").Close("thead").Open("tbody");
        foreach (var value in sign.Values)
        {
            html.Open("tr").Open("td", "class=\"drawn\"").Raw(SignPicture.Of(sign, value, html.Words) ?? "").Close("td").Element("td", html.Say(sign.InWords(value)));
            foreach (var _ in Nests) html.Raw("<td class=\"nest\"><span class=\"tick\"><i></i></span></td>");
            html.Close("tr");
        }

        html.Close("tbody").Close("table");
    }
}
