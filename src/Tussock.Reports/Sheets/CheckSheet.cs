using Tussock.Records;
using Tussock.Reports.Print;

namespace Tussock.Reports.Sheets;

/// <summary>A check: the way back to each nest, and what was found.</summary>
internal static class CheckSheet
{
    private const int Most = 9;

    internal static void Write(Html html, WalkedLine line, int day)
    {
        var isLast = day == line.Settings.CheckDays[^1];
        foreach (var (page, pages, stations) in line.Pages(Most))
        {
            SheetParts.Head(html, line, "sheets.check", (page, pages), Dates(html, line, day), hasRose: false);
            html.Open("div", "class=\"fill\"").Line("sheets.date", "2").Line("sheets.time_from").Line("sheets.time_to").Line("sheets.observer", "1.6").Line("sheets.writer", "1.6").Close("div");
            html.Element("p", html.Words.Say(isLast ? "sheets.check_how_last" : "sheets.check_how"), "class=\"how\"").Open("div", "class=\"rows\"");
            foreach (var station in stations) Row(html, line, station, day, isLast);
            html.Close("div");
            if (isLast) html.Open("div", "class=\"fill\"").Known("sheets.flags_out", line.Nests.IsEmpty ? "" : Words.Numbers.Whole(line.Nests.Length)).Line("sheets.flags_in").Line("sheets.washers_in").BoxOf("sheets.eggs_out").Close("div");
            html.Element("p", html.Words.Say("sheets.check_care"), "class=\"care\"").Close("main");
        }
    }

    private static Phrase Dates(Html html, WalkedLine line, int day) => line.Check(day) is { } check
        ? Phrase.Of("sheets.check_on", ("day", day), ("on", SheetParts.Date(html, check.On)), ("from", SheetParts.Date(html, check.From)), ("to", SheetParts.Date(html, check.To)))
        : Phrase.Of("sheets.check_planned", ("day", day), ("window", line.Settings.WindowDays));

    private static void Row(Html html, WalkedLine line, Station station, int day, bool isLast)
    {
        html.Open("section", "class=\"station\"").Element("h2", Words.Numbers.Whole(station.Number)).Open("div");
        if (station.Nest is { } nest) Way(html, line, nest);
        else html.Open("p", "class=\"cells\"").Line("sheets.way").Close("p");
        if (station.Nest is { Status: not StationStatus.Set })
        {
            html.Element("p", html.Words.Say("sheets.no_nest_here"), "class=\"ended\"");
        }
        else if (station.Nest is { } lost && line.IsEnded(lost, day))
        {
            html.Open("p", "class=\"cells ended\"").Text(html.Words.Say(Phrase.Of("sheets.ended", ("day", line.Settings.CheckDays[0])))).BoxOf("sheets.washer_in").BoxOf("sheets.flag").Close("p");
        }
        else
        {
            html.Open("p", "class=\"cells big\"").BoxOf("sheets.whole").BoxOf("sheets.eaten").BoxOf("sheets.other_loss").BoxOf("sheets.not_found").Boxes("sheets.eggs_whole", 3).Line("sheets.eggs_broken", ".8").Line("sheets.eggs_gone", ".8");
            if (!isLast) html.BoxOf("sheets.fresh_eggs");
            html.Close("p").Open("p", "class=\"cells\"").Raw("<span>").Text(html.Words.Say("sheets.washer")).Close("span").BoxOf("sheets.washer_in_bowl").BoxOf("sheets.washer_moved").BoxOf("sheets.washer_gone").BoxOf("sheets.bowl_as_set").BoxOf("sheets.flag").Line("sheets.time", "1").Line("sheets.photo", "1").Close("p");
        }

        html.Close("div").Close("section");
    }

    private static void Way(Html html, WalkedLine line, Nest nest)
    {
        var where = string.Join(", ", new[] { nest.Cover, nest.Source.Text("plant"), nest.Source.Text("landmarks"), nest.Source.Text("note") }.Where(t => t.Length > 0).Distinct());
        html.Open("p", "class=\"way\"").Open("span");
        if (WayWords.Of(line.Ways.Of(nest)) is { } way) html.Element("b", way).Text(" ");
        html.Text(where).Close("span").Line("sheets.note").Close("p");
    }
}
