using System.Collections.Immutable;
using System.Text;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Gpx;
using Tussock.Exchange.Places;
using Tussock.Exchange.SeasonFolder;
using Tussock.Layout;
using Tussock.Pictures;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Reports.Sheets;

namespace Tussock.App.Commands;

/// <summary>Draws a layout and writes it: season folder, map, GPX, picture, sheets.</summary>
internal static class PlanRun
{
    private const string Map = "lines.geojson";
    private const string Receiver = "lines.gpx";
    private const string Picture = "map.svg";
    private const string Sheets = "sheets";

    internal static int Run(Screen screen, PlanRequest request, CancellationToken cancel)
    {
        var (land, problems) = PlanLand.Read(screen, request, cancel);
        if (land is null) return screen.Refuse(problems);
        var drawn = SeasonLayout.Draw(land.Layout, request.Seed, cancel);
        foreach (var remark in drawn.Remarks) screen.Err.WriteLine(screen.Words.Say(remark));
        foreach (var shortfall in drawn.Shortfalls) Tell(screen, shortfall);
        if (drawn.Lines.IsEmpty || (!drawn.Shortfalls.IsEmpty && !request.AsManyAsFit)) return screen.Refuse(Phrase.Of("plan.nothing_written"));
        var tables = PlannedSeason.Tables(drawn, land.Layout.Rules, land.Tables, screen.Words);
        if (Refused(screen, request, tables, cancel) is { } exit) return exit;
        foreach (var line in drawn.Lines) screen.Out.WriteLine(screen.Words.Say(Phrase.Of("plan.line", ("line", line.Name), ("pasture", line.Pasture), ("stratum", line.Stratum.Length > 0 ? ", " + line.Stratum : ""), ("stations", line.Stations.Length), ("way", PlannedSeason.Way(line)))));
        return Beside(screen, request, land, drawn, cancel);
    }

    private static void Tell(Screen screen, LayoutShortfall shortfall)
    {
        screen.Err.WriteLine(screen.Words.Say(Phrase.Of("plan.short", ("pasture", shortfall.Area.Pasture), ("stratum", shortfall.Area.Stratum.Length > 0 ? ", " + shortfall.Area.Stratum : ""), ("fits", shortfall.Fits), ("asked", shortfall.Asked), ("why", shortfall.Why))));
        foreach (var way in shortfall.WouldFit) screen.Err.WriteLine("  " + screen.Words.Say(way));
        if (shortfall.WouldFit.IsEmpty) screen.Err.WriteLine("  " + screen.Words.Say("plan.fits_nothing"));
    }

    /// <summary>Writes the season folder; an exit code when that may not be or there is another one in its place.</summary>
    private static int? Refused(Screen screen, PlanRequest request, SeasonTables tables, CancellationToken cancel)
    {
        if (File.Exists(Path.Combine(request.Folder, "datapackage.json")))
        {
            var (there, _) = SeasonFolderReader.Read(request.Folder, cancel);
            if (there is not null && SameSeason.Are(there, tables)) return null;
            if (there is null || SameSeason.IsBegun(there)) return screen.Refuse([Told("plan.begun", request.Folder)]);
            if (!request.Overwrite) return screen.Refuse([Told("plan.differs", request.Folder)]);
        }

        var wrong = SeasonFolderWriter.Write(tables, request.Folder, request.Overwrite, cancel);
        return wrong.Any(p => p.Severity == Severity.Stop) ? screen.Refuse(wrong) : null;
    }

    private static int Beside(Screen screen, PlanRequest request, PlanLand land, DrawnLayout drawn, CancellationToken cancel)
    {
        var (season, problems) = SeasonFolderReader.ReadSeason(request.Folder, cancel);
        if (season is null) return screen.Refuse(problems);
        var map = SeasonMap.Of(season, screen.Words);
        Put(Map, s => GeoJsonWriter.Write(map, s));
        Put(Receiver, s => GpxWriter.Write(map, s));
        Put(Picture, s => s.Write(Encoding.UTF8.GetBytes(PlanMap.Draw(land.Layout, drawn, screen.Words))));
        foreach (var page in FieldSheets.Of(season, new ReportMaking(SharedOptions.Version, request.Seed, request.On, 0), null, screen.Words)) ReportFiles.Write(Path.Combine(request.Folder, Sheets), page);
        screen.Out.WriteLine(screen.Words.Say(Phrase.Of("plan.written", ("folder", request.Folder), ("lines", drawn.Lines.Length), ("nests", drawn.Lines.Sum(l => l.Stations.Length)), ("seed", request.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture)))));
        screen.Out.WriteLine(screen.Words.Say("plan.care"));
        return Exit.Done;

        void Put(string name, Action<Stream> write) => MapFiles.Write(Path.Combine(request.Folder, name), overwrite: true, write);
    }

    private static Problem Told(string key, string folder) => new(key[(key.IndexOf('.', StringComparison.Ordinal) + 1)..], Severity.Stop, new Place(folder), Phrase.Of(key), Phrase.Of(key + "_todo"));
}
