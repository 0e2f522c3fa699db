using System.Collections.Immutable;
using System.Globalization;
using Tussock.Evidence;
using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Fieldwork.Cameras;

/// <summary>How records of cameras are taken into a season.</summary>
public sealed record CameraChoices
{
    /// <summary>Names of animals and their classes.</summary>
    public SpeciesMap Species { get; init; } = SpeciesMap.Standard;

    /// <summary>Minutes without a picture that part two visits.</summary>
    public double GapMin { get; init; } = CameraVisits.UsualGapMin;

    /// <summary>Minutes that the clocks were ahead, for cameras of which nothing else is known; null: as the records say.</summary>
    public double? ClockOffsetMin { get; init; }

    /// <summary>The same for single cameras, by key.</summary>
    public ImmutableDictionary<string, double> ClockOffsets { get; init; } = ImmutableDictionary<string, double>.Empty;

    /// <summary>Whether what was changed both here and there becomes what the records say.</summary>
    public bool Overrules { get; init; }

    /// <summary>Whether rows that came before and no longer come are taken out.</summary>
    public bool RemovesMissing { get; init; }
}

/// <summary>A season with the records of cameras in it.</summary>
public sealed record SeasonCameras
{
    /// <summary>The season's tables with the records.</summary>
    public required SeasonTables Tables { get; init; }

    /// <summary>What is worth telling, in order.</summary>
    public required ImmutableArray<Phrase> Notes { get; init; }

    /// <summary>New rows.</summary>
    public required int Added { get; init; }

    /// <summary>Rows that became others.</summary>
    public required int Changed { get; init; }

    /// <summary>Rows changed both here and where they come from.</summary>
    public required int Disputed { get; init; }

    /// <summary>Rows that came before and no longer come: kind and id.</summary>
    public required ImmutableArray<(string Kind, Guid Id)> Missing { get; init; }

    /// <summary>Whether the tables differ from those before.</summary>
    public bool IsChanged => Added + Changed > 0;

    /// <summary>Puts the records of matched cameras into a season. What stays open is kept and told; nothing is dropped in silence.</summary>
    /// <param name="season">The season.</param>
    /// <param name="records">The records.</param>
    /// <param name="matches">The nests of the cameras.</param>
    /// <param name="choices">How.</param>
    public static SeasonCameras Of(Season season, CameraRecords records, IReadOnlyList<CameraMatch> matches, CameraChoices choices) => new Taking(season, records, choices).Take(matches);

    private sealed class Taking
    {
        private const int PicturesNamed = 20;
        private readonly Season season;
        private readonly CameraRecords records;
        private readonly CameraChoices choices;
        private readonly Guid id;
        private readonly CameraVisits visits;
        private readonly BroughtRows events, deployments, media, looks;
        private readonly ILookup<string, CameraPicture> pictures;
        private readonly ILookup<string, Sighting> sightings;
        private readonly List<Phrase> notes = [];
        private int people, animals, open;

        internal Taking(Season season, CameraRecords records, CameraChoices choices)
        {
            (this.season, this.records, this.choices) = (season, records, choices);
            id = NaturalKey.SeasonId(season.Settings.Name);
            visits = new CameraVisits(choices.Species, choices.GapMin);
            events = Rows(RecordKind.Cameras);
            deployments = Rows(RecordKind.Deployments);
            media = Rows(RecordKind.Media);
            looks = Rows(RecordKind.Visits);
            pictures = records.Pictures.ToLookup(p => p.Camera, StringComparer.Ordinal);
            sightings = records.Sightings.ToLookup(s => s.Camera, StringComparer.Ordinal);
        }

        internal SeasonCameras Take(IReadOnlyList<CameraMatch> matches)
        {
            foreach (var match in matches) if (match.Nest is { } nest) TakeCamera(match.Camera, nest);
            var unlisted = records.Sightings.Where(s => s.Shown == ShownKind.Animal && !visits.ClassOf(s).IsListed).GroupBy(s => s.Species, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal);
            foreach (var name in unlisted) notes.Add(Phrase.Of("cameras.species_unlisted", ("species", name.Key), ("count", name.Count())));
            notes.Add(Phrase.Of("cameras.visits", ("animals", animals), ("open", open), ("people", people)));
            var all = new[] { (RecordKind.Visits, looks), (RecordKind.Cameras, events), (RecordKind.Deployments, deployments), (RecordKind.Media, media) };
            foreach (var (kind, rows) in all)
            {
                foreach (var line in rows.Disputed) notes.Add(Phrase.Of(choices.Overrules ? "cameras.overruled" : "cameras.disputed", ("file", kind.File), ("line", line)));
                if (rows.Missing.Count() is > 0 and var count) notes.Add(Phrase.Of(choices.RemovesMissing ? "cameras.removed" : "cameras.missing", ("file", kind.File), ("count", count)));
            }

            var made = all.Select(a => (a.Item1, Table: a.Item2.Made(choices.RemovesMissing))).ToDictionary(a => a.Item1, a => a.Table);
            var tables = RecordKind.All.Select(k => made.GetValueOrDefault(k) ?? season.Tables.Table(k)).OfType<RecordTable>();
            return new SeasonCameras
            {
                Tables = season.Tables with { Tables = [.. tables] },
                Notes = [.. notes],
                Added = all.Sum(a => a.Item2.Added),
                Changed = all.Sum(a => a.Item2.Changed),
                Disputed = all.Sum(a => a.Item2.Disputed.Count),
                Missing = [.. all.SelectMany(a => a.Item2.Missing.Select(m => (a.Item1.Name, m.Id)))],
            };
        }

        private BroughtRows Rows(RecordKind kind) => new(season.Tables, kind, records.Name, choices.Overrules);

        private void TakeCamera(PlacedCamera camera, Nest nest)
        {
            var own = pictures[camera.Key].OrderBy(p => p.At).ThenBy(p => p.Key, StringComparer.Ordinal).ToArray();
            var seen = visits.Of(sightings[camera.Key], own);
            var hidden = PicturesOfPeople.Of(sightings[camera.Key], own);
            var offset = Offset(camera, nest);
            var shift = Cell.Number(camera.Tag("clock_was_ahead_min")) ?? 0;
            var shown = own.Where(p => !hidden.Contains(p.Key)).ToDictionary(p => p.Key, p => p.Hash.Length > 0 ? p.Hash : p.File, StringComparer.Ordinal);
            BringCamera(camera, nest, own.Length > 0 ? own[^1].At : null, offset);
            foreach (var picture in own) if (shown.TryGetValue(picture.Key, out var name)) BringPicture(camera, nest, picture, name, shift);
            var hasTaken = false;
            foreach (var visit in seen)
            {
                BringVisit(camera, nest, visit, shown, shift, ref hasTaken);
            }

            foreach (var look in sightings[camera.Key].Where(s => s.Tag("eggs_whole").Length > 0)) BringLook(camera, nest, look, shift - offset);
            if (camera.HasClockIssues && offset == 0) notes.Add(Phrase.Of("cameras.clock_issues", ("camera", camera.Key)));
            foreach (var other in season.Deployments.Where(d => IsSame(d.Nest, nest) && d.Source.Text(CameraColumns.Package) != records.Name).Take(1)) notes.Add(Phrase.Of("cameras.other_camera", ("camera", camera.Key), ("line", other.Source.Row.Line)));
        }

        private double Offset(PlacedCamera camera, Nest nest)
        {
            if (choices.ClockOffsets.TryGetValue(camera.Key, out var given)) return given;
            if (choices.ClockOffsetMin is { } all) return all;
            if (Cell.Number(camera.Tag("clock_was_ahead_min")) is { } corrected) return corrected;
            if (Cell.Number(camera.Tag("clock_offset_min")) is { } said) return said;
            return season.Deployments.FirstOrDefault(d => IsSame(d.Nest, nest) && d.Source.Text(CameraColumns.Package) == records.Name && d.Source.Text(CameraColumns.Deployment) == camera.Key)?.ClockOffsetMin ?? 0;
        }

        private void BringCamera(PlacedCamera camera, Nest nest, DateTime? last, double offset)
        {
            var said = camera.Tag("worked_until");
            var worked = Cell.DateOf(said) is not null && (said.Length == 10 || Cell.Time(said) is not null) ? said : camera.TakesByTheClock && last is { } end && camera.To - end > TimeSpan.FromDays(1) ? Text(end) : Text(camera.To);
            if (!camera.TakesByTheClock && said.Length == 0 && last is { } quiet && camera.To - quiet > TimeSpan.FromDays(3)) notes.Add(Phrase.Of("cameras.quiet", ("camera", camera.Key), ("day", DateOnly.FromDateTime(quiet)), ("end", DateOnly.FromDateTime(camera.To))));
            deployments.Bring(Id(RecordKind.Deployments, camera.Key, ""),
                ("transect", nest.Transect.Name), ("nest", Words.Numbers.Whole(nest.Number)), ("from", DayOr(camera, "from", camera.From)), ("to", DayOr(camera, "to", camera.To)), ("camera", camera.Camera),
                ("worked_until", worked), ("failed_because", camera.Tag("failed_because")), ("clock_offset_min", offset == 0 ? "" : Number(offset)),
                ("chosen", RecordKind.Deployments.ColumnNamed("chosen")!.Tokens.Contains(Cell.Token(camera.Tag("chosen"))) ? Cell.Token(camera.Tag("chosen")) : ""),
                ("distance_m", Cell.Number(camera.Tag("distance_m")) is >= 0 ? camera.Tag("distance_m") : ""), (CameraColumns.Deployment, camera.Key));
        }

        private void BringPicture(PlacedCamera camera, Nest nest, CameraPicture picture, string name, double shift) => media.Bring(Id(RecordKind.Media, camera.Key, picture.Key),
            ("media", name), ("type", picture.Type), ("transect", nest.Transect.Name), ("nest", Words.Numbers.Whole(nest.Number)), ("taken_at", Text(picture.At.AddMinutes(shift))), ("matched_by", "camera"), ("file", picture.File), (CameraColumns.Deployment, camera.Key));

        private void BringVisit(PlacedCamera camera, Nest nest, CameraVisit visit, Dictionary<string, string> shown, double shift, ref bool hasTaken)
        {
            var isPerson = visit.Culprit == "person";
            var took = visit.Act.TookEggs;
            var role = isPerson ? "person" : visit.Act.Role.Length > 0 ? visit.Act.Role : took != true ? "" : hasTaken ? "took_later" : "took_first";
            hasTaken |= took == true;
            if (isPerson) people++;
            else if (visit.Culprit.Length == 0) open++;
            else animals++;
            var kept = visit.Pictures.Where(shown.ContainsKey).Select(p => shown[p]).ToArray();
            events.Bring(Id(RecordKind.Cameras, camera.Key, visit.Key),
                ("transect", nest.Transect.Name), ("nest", Words.Numbers.Whole(nest.Number)), ("event_at", visit.IsWholeDay ? Text(visit.From)[..10] : Text(visit.From.AddMinutes(shift))), ("culprit", visit.Culprit),
                ("certainty", visit.Certainty), ("took_eggs", took is { } yes ? yes ? "yes" : "no" : ""), ("media", isPerson ? "" : string.Join(' ', kept.Take(PicturesNamed))), ("role", role),
                ("eggs_taken", visit.Act.EggsTaken is { } eggs ? Words.Numbers.Whole(eggs) : ""), (CameraColumns.Until, visit.IsWholeDay ? "" : Text(visit.To.AddMinutes(shift))), (CameraColumns.Species, visit.Species),
                (CameraColumns.Count, Words.Numbers.Whole(visit.Count)), (CameraColumns.Pictures, kept.Length > 0 ? Words.Numbers.Whole(kept.Length) : ""), (CameraColumns.Deployment, camera.Key), (CameraColumns.Observation, visit.Key));
        }

        /// <summary>Eggs seen whole by the camera are a visit that found the nest intact; fewer than were set are for people to judge.</summary>
        private void BringLook(PlacedCamera camera, Nest nest, Sighting look, double putRightMin)
        {
            if (Cell.Whole(look.Tag("eggs_whole")) is not { } eggs || eggs < Math.Max(1, nest.Eggs ?? 3))
            {
                notes.Add(Phrase.Of("cameras.eggs_fewer", ("camera", camera.Key), ("key", look.Key), ("eggs", look.Tag("eggs_whole"))));
                return;
            }

            var at = look.From.AddMinutes(putRightMin);
            var day = nest.SetOn is { } set && nest.SetAt is null ? (at - set.ToDateTime(new TimeOnly(12, 0))).TotalDays : (double?)null;
            looks.Bring(Id(RecordKind.Visits, camera.Key, look.Key),
                ("transect", nest.Transect.Name), ("nest", Words.Numbers.Whole(nest.Number)), ("visited_on", day is null ? Text(at)[..10] : ""), ("visited_at", day is null ? Text(at)[11..] : ""), ("day", day is { } d ? Number(Math.Round(d, 6)) : ""),
                ("finding", "intact"), ("eggs_intact", Words.Numbers.Whole(eggs)), ("found_by", "camera"), (CameraColumns.Deployment, camera.Key));
        }

        private Guid Id(RecordKind kind, string camera, string key) => NaturalKey.Id(id, kind.Name, string.Join(NaturalKey.Between, CameraColumns.Package, records.Name, camera, key), 1);

        /// <summary>Whether two readings of a season mean one nest.</summary>
        private static bool IsSame(Nest a, Nest b) => a.Number == b.Number && a.Transect.Name == b.Transect.Name;

        private static string DayOr(PlacedCamera camera, string tag, DateTime at) => camera.Tag(tag).Length > 0 && Cell.Date(camera.Tag(tag)) is { } day && day == DateOnly.FromDateTime(at) ? camera.Tag(tag) : Text(at);

        private static string Text(DateTime at) => at.ToString("yyyy-MM-ddTHH:mm:ss", CultureInfo.InvariantCulture);

        private static string Number(double x) => x.ToString("R", CultureInfo.InvariantCulture);
    }
}
