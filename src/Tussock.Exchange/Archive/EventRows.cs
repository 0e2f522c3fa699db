using System.Collections.Immutable;
using System.Globalization;
using Tussock.Evidence;
using Tussock.Fieldwork.Cameras;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Exchange.Archive;

/// <summary>Seasons as events of Darwin Core: a season holds transects, a transect its visits and cameras; animals that a camera confirmed are occurrences; findings and counts are facts.</summary>
/// <remarks>A simulated nest is bought eggs in a made bowl: no bird was there, and none is written.</remarks>
internal sealed class EventRows(PublishedNames names, string archive, bool isExact, string licence)
{
    private const string Withheld = "Names of people, notes, landmarks and pictures are withheld.";
    private const string WithheldPlaces = "Exact places, directions, boundaries, names of land and lines, names of people, notes, landmarks and pictures are withheld.";
    private const string Coarse = "Coordinates are the middle of the cell of a public grid of 0.01 degrees in which the transect begins, for everything on it; numbers stand for names.";
    private const string Protocol = "Simulated nests (a bowl in a clump of vegetation, with bought eggs) at equal steps along a flagged line";

    /// <summary>How far from its flag a nest may be. Judgement, no source.</summary>
    private const double NestFromFlagM = 50;

    /// <summary>How long a line may be whose steps nobody wrote down. Judgement, no source.</summary>
    private const double UnknownLineM = 2000;

    private readonly List<ImmutableArray<string>> events = [], occurrences = [], facts = [];

    /// <summary>The events.</summary>
    internal ArchiveTable Events => new("event", "event.csv", [.. Term.OfEvents.Select(t => t.Field())], events) { Key = ["eventID"], RowType = Term.Class("Event") };

    /// <summary>The occurrences.</summary>
    internal ArchiveTable Occurrences => Extension("occurrence", Term.OfOccurrences, occurrences, "Occurrence");

    /// <summary>The measurements and facts.</summary>
    internal ArchiveTable Facts => Extension("measurement", Term.OfMeasurements, facts, "MeasurementOrFact");

    /// <summary>Adds a season.</summary>
    internal void Add(ArchivedSeason archived, int number)
    {
        var season = archived.Season;
        var id = archive + ":s" + Words.Numbers.Fixed(number, 0);
        var set = season.Nests.Where(n => n.IsSet).ToArray();
        var days = set.Select(n => n.SetOn!.Value).Concat(season.Visits.Select(On).OfType<DateOnly>()).ToArray();
        Event(id, "", "season", "", days.Length == 0 ? "" : Interval(days.Min(), days.Max()), "", "", $"{Protocol}, visited until day {season.Settings.TrialDays}",
            Count(set.Length), set.Length == 0 ? "" : "simulated nests", $"{season.Transects.Count(t => t.SetOn is not null)} transects, checks planned on days {string.Join(", ", season.Settings.CheckDays)}", "", null, null);
        var nests = season.Nests.ToLookup(n => n.Transect);
        var visits = season.Visits.ToLookup(v => v.Nest);
        var segments = season.Segments.ToLookup(s => s.Transect);
        var (stood, seen) = (season.Deployments.ToLookup(d => d.Nest), season.CameraEvents.ToLookup(e => e.Nest));
        foreach (var line in season.Transects)
        {
            var at = ArchivedSeason.PlaceOf(line, nests[line], isExact);
            double? reach = at is { } middle && !isExact ? ReachM(middle, line, nests[line]) : null;
            Line(id, line, [.. nests[line]], visits, segments[line], at, reach);
            foreach (var nest in nests[line].Where(n => n.IsSet)) Nest(id, nest, at, reach, visits[nest], [.. stood[nest]], [.. seen[nest]]);
        }
    }

    /// <summary>How far anything on a line may lie from the middle of the cell: to its farthest corner, and as far as the line is walked by its steps. Reckoned from what is told anyway: the true distance would draw a ring on which to search.</summary>
    private static double ReachM(Position cell, Transect line, IEnumerable<Nest> nests) =>
        Math.Ceiling((CoarseGrid.ReachM(cell) + (line is { StepsBetween: { } steps, StepM: { } step } ? (nests.Select(n => n.Number).DefaultIfEmpty().Max() * steps * step) + NestFromFlagM : UnknownLineM)) / 10) * 10;

    private void Line(string parent, Transect line, Nest[] nests, ILookup<Nest, Visit> visits, IEnumerable<Segment> segments, Position? at, double? reach)
    {
        var id = Id(parent, line);
        var set = nests.Where(n => n.IsSet).ToArray();
        var days = set.SelectMany(n => visits[n].Select(On).OfType<DateOnly>().Append(n.SetOn!.Value)).ToArray();
        Event(id, parent, "transect", "", days.Length > 0 ? Interval(days.Min(), days.Max()) : line.SetOn is { } on ? Day(on) : "", "", "", Protocol, Count(set.Length), set.Length == 0 ? "" : "simulated nests",
            Effort(line, set, days), Location(line), at, reach);
        foreach (var part in segments.Where(s => s.IsCounted)) Belt(id, part);
    }

    private void Nest(string season, Nest nest, Position? line, double? reach, IEnumerable<Visit> visits, Deployment[] stood, CameraEvent[] seen)
    {
        var (id, number, location) = (Id(season, nest.Transect), Words.Numbers.Fixed(nest.Number, 0), Location(nest.Transect));
        var place = isExact ? nest.At ?? nest.Flag ?? line : line;
        var cover = names.Of(Handing.Cover, nest.Cover, "");
        var n = 0;
        foreach (var visit in visits) Visit(id, $"{id}:n{number}:v{Words.Numbers.Fixed(++n, 0)}", visit, cover, location, place, reach);
        if (stood.Length + seen.Length > 0) Cameras(id, $"{id}:n{number}:c", nest, stood, seen, (cover, location, place, reach));
    }

    private string Id(string season, Transect line) => season + ":t" + names.LineNumber(line.Name);

    private string Location(Transect line) => string.Join(" / ", names.Of(Handing.Property, line.Pasture.Property, ""), names.Of(Handing.Pasture, line.Pasture.Name, line.Pasture.Property), "transect " + names.Of(Handing.Line, line.Name, ""));

    private void Visit(string parent, string id, Visit visit, string cover, string location, Position? at, double? reach)
    {
        var minutes = visit.Source.Number("search_minutes");
        Event(id, parent, "visit", Words.Numbers.Fixed(visit.Nest.Number, 0), On(visit) is { } on ? Day(on) : "", visit.VisitedAt is { } time ? time.ToString("HH:mm", CultureInfo.InvariantCulture) : "", cover,
            visit.Source.Text("found_by") == "camera" ? "Eggs of one simulated nest seen whole on a picture of a camera" : "One look at one simulated nest", "1", "simulated nests", minutes is { } m ? Number(m) + " minutes of search" : "", location, at, reach);
        Fact(id, "finding", Token(visit.Finding), "", "intact: no egg lost; depredated: eggs taken or broken by an animal; other_loss: lost otherwise; not_relocated: nest not found again, fate open");
        if (visit.Day is { } day) Fact(id, "days since set-out", Number(Math.Round(day, 2)), "d", "difference of local dates; of times too where both are known");
        if (visit.Cause.Length > 0) Fact(id, "cause of other loss", names.Of(Handing.WordOrOther, visit.Cause, ""), "", "as the crew wrote it");
        if (visit.EggsIntact is { } whole) Fact(id, "eggs found whole", Count(whole), "eggs", "counted");
        if (visit.Nest.Eggs is { } eggs) Fact(id, "eggs set out", Count(eggs), "eggs", "counted at set-out");
        foreach (var column in new[] { "eggs_broken", "eggs_missing", "eggs_spoiled" }) if (Cell.Whole(visit.Source.Text(column)) is { } counted) Fact(id, column.Replace('_', ' '), Count(counted), "eggs", "counted");
    }

    private void Belt(string id, Segment part) => Fact(id, "suitable clumps of " + names.Of(Handing.Cover, part.Cover, ""), Count(part.Clumps ?? 0), "clumps",
        "every clump big enough to hide a nest, rooted within the belt, counted on foot",
        "segment " + Words.Numbers.Fixed(part.Number, 0) + ", pass " + Words.Numbers.Fixed(part.Pass, 0) + (part.Steps is { } steps ? ", " + Number(steps) + " steps" : "") + (part.StepM is { } m ? " of " + Number(m) + " m" : "") + (part.WidthM is { } width ? ", belt " + Number(width) + " m wide" : ""));

    private void Cameras(string parent, string prefix, Nest nest, Deployment[] stood, CameraEvent[] seen, (string Cover, string Location, Position? At, double? ReachM) where)
    {
        var there = new CamerasAtNests(stood);
        for (var n = 0; n < Math.Max(1, stood.Length); n++)
        {
            var camera = n < stood.Length ? stood[n] : null;
            var id = prefix + Words.Numbers.Fixed(n + 1, 0);
            var (from, to) = (camera is null ? nest.SetOn : Cell.DateOf(camera.Source.Text("from")), camera is null ? null : Cell.DateOf(camera.Source.Text("to")));
            Event(id, parent, "camera", Words.Numbers.Fixed(nest.Number, 0), from is { } start ? to is { } end && end >= start ? Interval(start, end) : Day(start) : "", "", where.Cover, "Camera trap watching one simulated nest",
                from is { } f && to is { } t && t >= f ? Count(t.DayNumber - f.DayNumber + 1) : "", from is not null && to >= from ? "days" : "", camera?.Chosen is { Length: > 0 } chosen ? "nest chosen: " + chosen : "", where.Location, where.At, where.ReachM);
            var k = 0;
            foreach (var one in seen.Where(e => there.Of(nest, e.Source) == camera)) Animal(id, id + ":o" + Words.Numbers.Fixed(++k, 0), one, camera);
        }
    }

    private void Animal(string parent, string id, CameraEvent seen, Deployment? camera)
    {
        if (seen.Culprit is "" or "unknown" || SeenPeople.In(seen.Source)) return;
        var culprit = names.Of(Handing.Culprit, seen.Culprit, "");
        var recorded = names.Of(Handing.Word, seen.Source.Text(CameraColumns.Species), "");
        // A word that is in no list may mean anybody: without an animal's name it is no sighting of one.
        if (recorded.Length == 0 && !SeenPeople.IsListed(seen.Culprit)) return;
        var name = recorded.Length > 0 ? recorded : SpeciesMap.Standard.WrittenAs(culprit);
        var written = seen.Source.Text("event_at");
        var at = Cell.DateOf(written) is { } on
            ? Cell.Time(written) is { } time && written.Length > 10 ? on.ToDateTime(time).AddMinutes(-(camera?.ClockOffsetMin ?? 0)).ToString("yyyy-MM-ddTHH:mm", CultureInfo.InvariantCulture) : Day(on)
            : seen is { Day: { } day, Nest.SetOn: { } set } && Math.Abs(day) < 3650 ? Day(set.AddDays((int)Math.Floor(day))) : "";
        var certainty = names.Of(Handing.Word, seen.Source.Text("certainty"), "");
        occurrences.Add([parent, id, "MachineObservation", "present", at, name.Length > 0 ? name : "Animalia", "Animalia", culprit.Replace('_', ' '), Cell.Whole(seen.Source.Text(CameraColumns.Count)) is > 0 and var count ? Count(count) : "",
            seen.Role.Replace('_', ' '), "From pictures of a camera." + (certainty.Length > 0 ? " Certainty as written: " + certainty + "." : "") + (name.Length > 0 ? "" : " The class has no one scientific name."),
            seen.TookEggs switch { true => "Took eggs of the simulated nest.", false => "Took no egg.", _ => "" }]);
    }

    private static string Effort(Transect line, Nest[] set, DateOnly[] days)
    {
        var metres = line is { StepsBetween: { } steps, StepM: { } step } && set.Length > 1 ? Number(Math.Round(steps * step * (set.Max(n => n.Number) - 1))) + " m of line, " : "";
        return set.Length == 0 ? "" : metres + Count(set.Length) + " nests" + (days.Length > 0 ? " over " + Count(days.Max().DayNumber - days.Min().DayNumber) + " days" : "");
    }

    private void Event(string id, string parent, string type, string field, string date, string time, string habitat, string protocol, string size, string unit, string effort, string location, Position? at, double? reach) =>
        events.Add([id, parent, type, field, date, time, habitat, protocol, size, unit, effort, location, at is { } n ? Reading.StrangerXml.Degrees(n.Latitude) : "", at is { } e ? Reading.StrangerXml.Degrees(e.Longitude) : "", at is null ? "" : "WGS84",
            reach is { } m ? Number(m) : "", isExact ? Withheld : WithheldPlaces, isExact ? "" : Coarse, licence]);

    private void Fact(string id, string type, string value, string unit, string method, string remarks = "") =>
        facts.Add([id, id + ":m" + Words.Numbers.Fixed(facts.Count + 1, 0), type, value, unit, method, remarks]);

    private static ArchiveTable Extension(string name, ImmutableArray<Term> terms, List<ImmutableArray<string>> rows, string rowType) =>
        new(name, name + ".csv", [.. terms.Select(t => t.Field())], rows) { Key = [terms[1].Name], RowType = Term.Class(rowType), Refers = [("event", ["eventID"], ["eventID"])] };

    private static DateOnly? On(Visit visit) => visit.VisitedOn ?? (visit is { Day: { } day, Nest.SetOn: { } set } && Math.Abs(day) < 3650 ? set.AddDays((int)Math.Floor(day)) : null);

    private static string Interval(DateOnly from, DateOnly to) => from == to ? Day(from) : Day(from) + "/" + Day(to);

    private static string Day(DateOnly on) => on.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Count(int n) => n.ToString(CultureInfo.InvariantCulture);

    private static string Number(double x) => Math.Round(x, 4).ToString("0.####", CultureInfo.InvariantCulture);

    private static string Token(Finding finding) => finding switch { Finding.Intact => "intact", Finding.Depredated => "depredated", Finding.OtherLoss => "other_loss", _ => "not_relocated" };
}
