using System.Collections.Immutable;
using Tussock.Records;
using Tussock.Reports.Print;
using Tussock.Words;

namespace Tussock.Reports.Sheets;

/// <summary>What to load into the truck, whom to call, and what to beware of.</summary>
internal static class SuppliesSheet
{
    /// <summary>Spare of everything that breaks or gets lost. Common practice, no source.</summary>
    private const double Spare = 0.1;

    /// <summary>Eggs a nest.</summary>
    private const int EggsANest = 3;

    private static readonly string[] Contacts = ["lead", "landowner", "emergency", "clinic", "meeting_place", "back_by"];
    private static readonly string[] Cautions = ["heat", "alone", "fire", "animals", "eggs", "hands", "boots", "outbreak", "hen", "law", "places"];

    internal static void Write(Html html, Season season, ImmutableArray<WalkedLine> lines)
    {
        html.Open("main", "class=\"page supplies\"").Open("header").Open("div").Element("h1", html.Words.Say("sheets.supplies")).Element("p", season.Settings.Title, "class=\"where\"").Close("div").Close("header");
        html.Open("div", "class=\"two\"").Open("section").Element("h2", html.Words.Say("sheets.load")).Open("table", "class=\"load\"").Open("tbody");
        foreach (var (key, count) in Load(season, lines))
        {
            html.Open("tr").Raw("<td><span class=\"tick\"><i></i></span></td>").Element("td", count > 0 ? Numbers.Whole(count) : "", "class=\"count\"").Element("td", html.Words.Say("sheets.load." + key)).Close("tr");
        }

        html.Close("tbody").Close("table").Element("p", html.Words.Say("sheets.load_note")).Close("section").Open("section").Element("h2", html.Words.Say("sheets.calls"));
        foreach (var contact in Contacts) html.Open("p", "class=\"cells\"").Line("sheets.call." + contact).Close("p");
        html.BoxOf("sheets.permission").BoxOf("sheets.gate").Close("section").Close("div");
        html.Open("section", "class=\"cautions\"").Element("h2", html.Words.Say("sheets.beware")).List(Cautions.Select(c => html.Words.Say("sheets.beware." + c))).Close("section").Close("main");
    }

    /// <summary>Things and how many; 0 where the number is the crew's to say.</summary>
    private static IEnumerable<(string Key, int Count)> Load(Season season, ImmutableArray<WalkedLine> lines)
    {
        var nests = season.Nests.Length;
        int More(int count) => (int)Math.Ceiling(count * (1 + Spare));
        yield return ("eggs", More(nests * EggsANest));
        yield return ("eggs_again", season.Settings.CheckDays.Length > 1 ? More(nests * EggsANest * (season.Settings.CheckDays.Length - 1)) : 0);
        yield return ("washers", More(nests));
        yield return ("flags", More(nests + lines.Length));
        yield return ("sheets", lines.Length * (3 + season.Settings.CheckDays.Length));
        foreach (var key in (string[])["gloves", "tubs", "stick", "compass", "phone", "pencils", "water", "aid"]) yield return (key, 0);
    }
}
