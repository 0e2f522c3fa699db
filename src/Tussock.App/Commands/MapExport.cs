using System.Collections.Immutable;
using System.Text;
using Tussock.Exchange.Calendar;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Gpx;
using Tussock.Exchange.Kml;
using Tussock.Exchange.Places;
using Tussock.Records;

namespace Tussock.App.Commands;

/// <summary><c>tussock export DATA --as …</c>: a season's places for other programs, or its check days for a calendar.</summary>
internal static class MapExport
{
    /// <summary>What --as may be, besides the season folder.</summary>
    internal static ImmutableArray<string> Forms { get; } = ["gpx", "geojson", "kml", "shapefile", "ical", "calendar"];

    internal static int Run(Screen screen, MapExportRequest request, CancellationToken cancel)
    {
        var (season, problems) = SeasonSource.Season(request.Data, request.Season, cancel);
        if (season is null) return screen.Refuse(problems);
        return request.Form is "ical" or "calendar" ? Calendar(screen, request, season) : Map(screen, request, season);
    }

    private static int Calendar(Screen screen, MapExportRequest request, Season season)
    {
        if (CheckCalendar.Of(season, request.IsExact, request.At, screen.Words) is not { } text) return Refuse(screen, request, "maps.nothing_set", "maps.nothing_set_todo");
        var wrong = MapFiles.Write(request.Path, request.Overwrite, s => s.Write(Encoding.UTF8.GetBytes(text)));
        if (!wrong.IsEmpty) return screen.Refuse(wrong);
        screen.Out.WriteLine(screen.Words.Say(Phrase.Of("maps.calendar_written", ("path", request.Path))));
        return Exit.Done;
    }

    private static int Map(Screen screen, MapExportRequest request, Season season)
    {
        var map = request.IsExact ? SeasonMap.Of(season, screen.Words) : CoarseMap.Of(season, screen.Words);
        if (map.Features.IsEmpty) return Refuse(screen, request, "maps.nothing_placed", "maps.nothing_placed_todo");
        var wrong = request.Form switch
        {
            "gpx" => MapFiles.Write(request.Path, request.Overwrite, s => GpxWriter.Write(map, s)),
            "geojson" => MapFiles.Write(request.Path, request.Overwrite, s => GeoJsonWriter.Write(map, s)),
            "kml" => MapFiles.Write(request.Path, request.Overwrite, s => KmlWriter.Write(map, s)),
            _ => MapFiles.WriteShapes(request.Path, request.Overwrite, map),
        };
        if (!wrong.IsEmpty) return screen.Refuse(wrong);
        screen.Out.WriteLine(screen.Words.Say(Phrase.Of("maps.written", ("path", request.Path), ("features", map.Features.Length), ("note", map.Description))));
        return Exit.Done;
    }

    private static int Refuse(Screen screen, MapExportRequest request, string what, string toDo) =>
        screen.Refuse([new Problem("places", Severity.Stop, new Place(request.Data), Phrase.Of(what), Phrase.Of(toDo))]);
}

/// <summary>What to write and how.</summary>
/// <param name="Data">DATA.</param>
/// <param name="Season">Name of the season; null when there is only one.</param>
/// <param name="Form">One of <see cref="MapExport.Forms"/>.</param>
/// <param name="Path">File or folder to write.</param>
/// <param name="IsExact">Whether places and names are exact.</param>
/// <param name="Overwrite">Whether what is there is replaced.</param>
/// <param name="At">When.</param>
internal sealed record MapExportRequest(string Data, string? Season, string Form, string Path, bool IsExact, bool Overwrite, DateTimeOffset At);
