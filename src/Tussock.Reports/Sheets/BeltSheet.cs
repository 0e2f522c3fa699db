using System.Collections.Immutable;
using Tussock.Reports.Print;

namespace Tussock.Reports.Sheets;

/// <summary>The belt on the way back: a row for each segment, a field to tally in for each class that is counted.</summary>
internal static class BeltSheet
{
    private const int Most = 12, MostClasses = 4;

    internal static void Write(Html html, WalkedLine line)
    {
        ImmutableArray<string> counted = [.. line.Settings.CoverClasses.Select(c => c.Name).Where(c => line.Settings.ClassesThatCount.IsEmpty || line.Settings.ClassesThatCount.Contains(c)).Take(MostClasses)];
        foreach (var (page, pages, stations) in line.Pages(Most))
        {
            SheetParts.Head(html, line, "sheets.belt", (page, pages), null, hasRose: false);
            html.Open("div", "class=\"fill\"").Line("sheets.date", "2").Line("sheets.observer", "1.6").Line("sheets.arm_span", "1.4").Known("sheets.step_m", SheetParts.Number(line.Transect.StepM)).BoxOf("sheets.pass_1").BoxOf("sheets.pass_2").Close("div");
            html.Element("p", html.Words.Say("sheets.belt_how"), "class=\"how\"").Open("table", "class=\"belt\"").Open("thead").Open("tr").Element("th", html.Words.Say("sheets.segment"));
            foreach (var cover in counted) html.Element("th", cover).Element("th", html.Words.Say("sheets.total"), "class=\"total\"");
            html.Element("th", html.Words.Say("sheets.how_counted"), "class=\"how-counted\"").Close("tr").Close("thead").Open("tbody");
            foreach (var station in stations)
            {
                html.Open("tr").Open("th").Text(Words.Numbers.Whole(station.Number)).Element("small", Phrase.Of("sheets.between", ("from", station.Number - 1), ("to", station.Number))).Close("th");
                foreach (var _ in counted) html.Open("td").Close("td").Open("td", "class=\"total\"").Close("td");
                html.Open("td", "class=\"how-counted\"").BoxOf("sheets.both").BoxOf("sheets.left").BoxOf("sheets.right").BoxOf("sheets.not_counted").Close("td").Close("tr");
            }

            html.Close("tbody").Close("table").Element("p", html.Words.Say("sheets.belt_care"), "class=\"care\"").Close("main");
        }
    }
}
