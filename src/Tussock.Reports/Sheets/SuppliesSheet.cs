using Tussock.Provisions;
using Tussock.Records;
using Tussock.Reports.Print;
using Tussock.Words;

namespace Tussock.Reports.Sheets;

/// <summary>What to load into the truck, whom to call, and what to beware of.</summary>
internal static class SuppliesSheet
{
    /// <summary>What is loaded besides, in a number that is the crew's to say.</summary>
    private static readonly string[] Besides = ["tubs", "stick", "compass", "phone", "pencils", "water", "aid"];
    private static readonly string[] Contacts = ["lead", "landowner", "emergency", "clinic", "meeting_place", "back_by"];
    private static readonly string[] Cautions = ["heat", "alone", "fire", "animals", "eggs", "hands", "boots", "outbreak", "hen", "law", "places"];

    internal static void Write(Html html, Season season, SupplyNeeds needs)
    {
        html.Open("main", "class=\"page supplies\"").Open("header").Open("div").Element("h1", html.Words.Say("sheets.supplies")).Element("p", season.Settings.Title, "class=\"where\"").Close("div").Close("header");
        html.Open("div", "class=\"two\"").Open("section").Element("h2", html.Words.Say("sheets.load")).Open("table", "class=\"load\"").Open("tbody");
        var list = SupplyList.Of(season, needs);
        foreach (var row in list.Rows) Row(html, row.Name, Numbers.Whole(row.Count), row.UnitCost is { } one ? Phrase.Of("sheets.cost_of", ("one", Numbers.Fixed(one, 2)), ("all", Numbers.Fixed(row.Cost!.Value, 2))) : null);
        foreach (var name in Besides) Row(html, name, "", null);
        html.Close("tbody").Close("table");
        if (list.Cost is { } cost) html.Element("p", Phrase.Of("sheets.cost", ("cost", Numbers.Fixed(cost, 2))));
        html.Element("p", Phrase.Of("sheets.load_note", ("spare", needs.Spare), ("survival", needs.Survival), ("days", season.Settings.TrialDays))).Close("section").Open("section").Element("h2", html.Words.Say("sheets.calls"));
        foreach (var contact in Contacts) html.Open("p", "class=\"cells\"").Line("sheets.call." + contact).Close("p");
        html.BoxOf("sheets.permission").BoxOf("sheets.gate").Close("section").Close("div");
        html.Open("section", "class=\"cautions\"").Element("h2", html.Words.Say("sheets.beware")).List(Cautions.Select(c => html.Words.Say("sheets.beware." + c))).Close("section").Close("main");
    }

    private static void Row(Html html, string name, string count, Phrase? cost)
    {
        html.Open("tr").Raw("<td><span class=\"tick\"><i></i></span></td>").Element("td", count, "class=\"count\"").Element("td", html.Words.Say("sheets.load." + name));
        if (cost is not null) html.Element("td", cost);
        html.Close("tr");
    }
}
