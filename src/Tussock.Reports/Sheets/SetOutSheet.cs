using Tussock.Reports.Print;

namespace Tussock.Reports.Sheets;

/// <summary>Setting out: a row for each station, in the order of the work there.</summary>
internal static class SetOutSheet
{
    private const int Most = 12;

    internal static void Write(Html html, WalkedLine line)
    {
        foreach (var (page, pages, stations) in line.Pages(Most))
        {
            SheetParts.Head(html, line, "sheets.set_out", (page, pages), line.Transect.SetOn is { } on ? Phrase.Of("sheets.set_on", ("on", SheetParts.Date(html, on))) : Phrase.Of("sheets.planned"), hasRose: true);
            html.Open("div", "class=\"fill\"").Known("sheets.date", line.Transect.SetOn is { } set ? SheetParts.Date(html, set) : "", "2").Known("sheets.walker", line.Transect.Source.Text("paced_by"), "1.4").Known("sheets.writer", line.Transect.Source.Text("recorder"), "1.4").Known("sheets.step_m", SheetParts.Number(line.Transect.StepM), "1").Close("div");
            html.Open("div", "class=\"fill\"").BoxOf("sheets.magnetic").BoxOf("sheets.true_north").Known("sheets.line_bearing", SheetParts.Number(line.Transect.BearingTrueDeg)).Known("sheets.steps_between", SheetParts.Number(line.Transect.StepsBetween)).Close("div");
            // Where a planned line turns stands in its note; what was noted of a line that was walked is no business of this sheet.
            if (line.Transect.SetOn is null && line.Transect.Source.Text("note") is { Length: > 0 } note) html.Element("p", note, "class=\"dates\"");
            html.Element("p", html.Words.Say("sheets.set_out_how"), "class=\"how\"");
            html.Open("div", "class=\"rows\"");
            foreach (var station in stations) Row(html, line, station);
            html.Close("div").Element("p", html.Words.Say("sheets.set_out_care"), "class=\"care\"").Close("main");
        }
    }

    private static void Row(Html html, WalkedLine line, Station station)
    {
        var turn = WalkedLine.Turn(station);
        html.Open("section", "class=\"station\"").Element("h2", Words.Numbers.Whole(station.Number)).Open("div");
        html.Open("p", "class=\"cells\"");
        foreach (var cover in line.Settings.CoverClasses) html.Raw(cover.Name == turn ? "<span class=\"due\">" : "<span>").Box(cover.Name).Close("span");
        html.BoxOf("sheets.no_clump").Line("sheets.plant", "2").Line("sheets.steps", "1").Line("sheets.direction", "1.1").SenseBoxes().Close("p");
        html.Open("p", "class=\"cells\"").BoxOf("sheets.bowl").Boxes("sheets.eggs", 3).BoxOf("sheets.washer");
        if (station.Nest?.Source.Token("marked") == "none") html.Element("b", html.Words.Say("sheets.no_flag"));
        else html.BoxOf("sheets.flag");
        html.BoxOf("sheets.covered").Line("sheets.time", ".9").Line("sheets.landmarks", "3").Line("sheets.photo", ".9").Close("p");
        html.Close("div").Close("section");
    }
}
