using Tussock.Records;
using Tussock.Reports.Print;

namespace Tussock.Reports.Sheets;

/// <summary>A page for each property, filled in with the landowner: leave to go in, gate, livestock, hunting, whom to call, and what the crew will and won't do.</summary>
/// <remarks>Codes of gates have no line here on purpose: the page goes through many hands.</remarks>
internal static class PermissionSheet
{
    private static readonly string[] Owner = ["landowner", "owner_phone", "other_contact"];
    private static readonly string[] GoingIn = ["gate", "hours", "roads", "dogs", "livestock", "livestock_when", "hunting", "spraying"];
    private static readonly string[] Emergency = ["emergency", "clinic", "way_for_ambulance", "signal"];
    private static readonly string[] Promises = ["asked_first", "as_found", "no_fire", "take_out", "real_nests", "places", "stop"];

    internal static void Write(Html html, Season season)
    {
        foreach (var property in season.Pastures.GroupBy(p => p.Property, StringComparer.Ordinal))
        {
            var lines = season.Transects.Where(t => t.Pasture.Property == property.Key).ToHashSet();
            html.Open("main", "class=\"page supplies\"").Open("header").Open("div").Element("h1", html.Words.Say("sheets.permit")).Element("p", property.Key, "class=\"where\"").Close("div").Close("header");
            html.Element("p", Phrase.Of("sheets.permit_what", ("pastures", property.Select(p => p.Name).ToArray()), ("lines", lines.Count), ("nests", season.Nests.Count(n => lines.Contains(n.Transect))), ("days", season.Settings.TrialDays), ("checks", season.Settings.CheckDays.Select(d => Words.Numbers.Whole(d)).ToArray())));
            html.Open("div", "class=\"two\"").Open("section");
            Lines(html, "sheets.permit_owner", Owner);
            Lines(html, "sheets.permit_emergency", Emergency);
            html.Close("section").Open("section");
            Lines(html, "sheets.permit_going_in", GoingIn);
            html.Close("section").Close("div");
            html.Open("section", "class=\"cautions\"").Element("h2", html.Words.Say("sheets.permit_crew")).List(Promises.Select(p => html.Words.Say("sheets.permit." + p))).Close("section");
            html.Open("p", "class=\"cells\"").Line("sheets.permit.from", "1").Line("sheets.permit.until", "1").Close("p");
            html.Open("p", "class=\"cells\"").Line("sheets.permit.owner_signs", "2").Line("sheets.permit.lead_signs", "2").Close("p");
            html.Element("p", html.Words.Say("sheets.permit_law")).Close("main");
        }
    }

    private static void Lines(Html html, string title, string[] keys)
    {
        html.Element("h2", html.Words.Say(title));
        foreach (var key in keys) html.Open("p", "class=\"cells\"").Line("sheets.permit." + key).Close("p");
    }
}
