using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Json;
using Tussock.Evidence;
using Tussock.Exchange.SeasonFolder;
using Tussock.Fieldwork.Cameras;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Exchange.CameraPackage;

/// <summary>A package ready to be written.</summary>
/// <param name="Files">Its files by name.</param>
/// <param name="Pictures">SHA-256 of the pictures that belong to it, and their paths in it.</param>
/// <param name="Notes">What was left out, and why.</param>
/// <param name="Cameras">How many cameras.</param>
/// <param name="Events">How many events.</param>
public sealed record WrittenPackage(ImmutableArray<(string Name, byte[] Bytes)> Files, ImmutableArray<(string Hash, string Path)> Pictures, ImmutableArray<Phrase> Notes, int Cameras, int Events);

/// <summary>Writes what cameras saw in a season as a package of the open standard Camtrap DP 1.0.2.</summary>
/// <remarks>
/// Times are corrected by the written error of each clock; the error stands beside them, so that our reader gets the camera's own time back. Coarsened: the middle of a cell of
/// the public grid for all nests of a line, numbers instead of names, no pictures. Pictures of people are in no season and so in no package.
/// </remarks>
public static class CameraPackageWriter
{
    /// <summary>Name in the description that says that places and names are not the true ones.</summary>
    internal const string Coarsened = "coarsened";

    private static readonly string[] CaptureMethods = ["activityDetection"];
    private static readonly string[] Levels = ["event", "media"];

    private const string Address = "https://raw.githubusercontent.com/tdwg/camtrap-dp/1.0.2/";

    /// <summary>The package of a season.</summary>
    /// <param name="season">The season.</param>
    /// <param name="isExact">Whether places and names are exact.</param>
    /// <param name="zone">Time zone of the season.</param>
    /// <param name="at">When it is written.</param>
    public static WrittenPackage Of(Season season, bool isExact, TimeZoneInfo zone, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(season);
        return new Writing(season, isExact, zone).Made(at);
    }

    private sealed class Writing(Season season, bool isExact, TimeZoneInfo zone)
    {
        private readonly List<Phrase> notes = [];
        private readonly List<string[]> deployments = [], media = [], observations = [];
        private readonly List<(string, string)> pictures = [];
        private readonly SortedSet<string> species = new(StringComparer.Ordinal);
        private readonly List<(WrittenCamera Camera, DateTime From, DateTime To)> covered = [];
        private readonly HashSet<string> keys = new(StringComparer.Ordinal);
        private int events;

        internal WrittenPackage Made(DateTimeOffset at)
        {
            var cameras = Cameras();
            foreach (var camera in cameras) deployments.Add([camera.Key, Location(camera.Nest), Degrees(camera.At.Latitude), Degrees(camera.At.Longitude), camera.UncertaintyM is { } m ? Words.Numbers.Whole(m) : "", Moment(camera.From), Moment(camera.To), isExact ? camera.Row?.Source.Text("camera") ?? "" : "", "nestSite", camera.Tags(isExact)]);
            var there = new CamerasAtNests(season.Deployments);
            foreach (var seen in season.CameraEvents) if (CameraOf(cameras, there, seen.Nest, seen.Source) is { } camera) Event(camera, seen);
            foreach (var look in season.Visits.Where(v => v is { Finding: Finding.Intact, EggsIntact: > 0, Day: not null } && v.Source.Text("found_by") == "camera")) if (CameraOf(cameras, there, look.Nest, look.Source) is { } camera) Look(camera, look);
            if (isExact) Media(cameras);
            var files = cameras.Count == 0 ? [] : new[]
            {
                ("datapackage.json", Description(cameras, at)),
                ("deployments.csv", Csv("deploymentID,locationName,latitude,longitude,coordinateUncertainty,deploymentStart,deploymentEnd,cameraID,featureType,deploymentTags", deployments)),
                ("media.csv", Csv("mediaID,deploymentID,timestamp,filePath,filePublic,fileName,fileMediatype", media)),
                ("observations.csv", Csv("observationID,deploymentID,mediaID,eventID,eventStart,eventEnd,observationLevel,observationType,scientificName,count,classificationProbability,observationTags", observations)),
            };
            return new WrittenPackage([.. files], [.. pictures], [.. notes], cameras.Count, events);
        }

        private List<WrittenCamera> Cameras()
        {
            var made = new List<WrittenCamera>();
            foreach (var row in season.Deployments) Add(row.Nest, row, WrittenCamera.Moment(row.Source.Text("from"), false) ?? row.Nest.SetOn?.ToDateTime(TimeOnly.MinValue), WrittenCamera.Moment(row.Source.Text("to"), true) ?? WrittenCamera.Moment(row.Source.Text("worked_until"), true));
            var known = season.Deployments.Select(d => d.Nest).ToHashSet();
            foreach (var nest in season.CameraEvents.Select(e => e.Nest).Distinct().Where(n => !known.Contains(n)))
            {
                notes.Add(Phrase.Of("cameras.export_made", ("nest", Shown(nest))));
                Add(nest, null, nest.SetOn?.ToDateTime(TimeOnly.MinValue), nest.SetOn?.ToDateTime(new TimeOnly(23, 59, 59)).AddDays(season.Settings.TrialDays));
            }

            return made;

            void Add(Nest nest, Deployment? row, DateTime? from, DateTime? to)
            {
                if ((nest.At ?? nest.Flag) is not { } exact) notes.Add(Phrase.Of("cameras.export_no_place", ("nest", Shown(nest))));
                else if (from is not { } start) notes.Add(Phrase.Of("cameras.export_no_days", ("nest", Shown(nest))));
                else
                {
                    var end = to ?? start.Date.AddDays(season.Settings.TrialDays);
                    var said = row?.Source.Text(CameraColumns.Deployment) ?? "";
                    made.Add(new WrittenCamera { Key = Key(!isExact ? "camera " + Words.Numbers.Whole(made.Count + 1) : said.Length > 0 ? said : Shown(nest)), Nest = nest, Row = row, At = isExact ? exact : Coarse(nest, exact), UncertaintyM = isExact ? Accuracy(nest) : (int)CoarseGrid.ReachM(Coarse(nest, exact)), From = start, To = end < start ? start : end });
                }
            }
        }

        private void Event(WrittenCamera camera, CameraEvent seen)
        {
            var written = seen.Source.Text("event_at");
            var isWholeDay = written.Length == 10 || (written.Length == 0 && seen.Nest.SetOn is null);
            var from = written.Length > 10 ? WrittenCamera.Moment(written, false)?.AddMinutes(-camera.AheadMin) : written.Length == 10 ? WrittenCamera.Moment(written, false) : At(seen.Nest, seen.Day);
            if (from is not { } start)
            {
                notes.Add(Phrase.Of("cameras.export_no_time", ("line", seen.Source.Row.Line)));
                return;
            }

            var until = WrittenCamera.Moment(seen.Source.Text(CameraColumns.Until), true)?.AddMinutes(-camera.AheadMin) ?? (isWholeDay ? start.Date.AddDays(1).AddSeconds(-1) : start);
            var end = until < start ? start : until;
            var shown = seen.Culprit switch { "" => "unclassified", "unknown" => "unknown", "person" => "human", _ => "animal" };
            var named = seen.Source.Text(CameraColumns.Species);
            var name = shown != "animal" ? "" : named.Length > 0 ? named : SpeciesMap.Standard.WrittenAs(seen.Culprit);
            if (name.Length > 0) species.Add(name);
            var certainty = seen.Source.Text("certainty");
            var isChance = Cell.Number(certainty) is >= 0 and <= 1;
            var tags = new List<(string Name, string Value)> { ("culprit", shown == "animal" ? seen.Culprit : ""), ("role", seen.Role == "person" ? "" : seen.Role), ("took_eggs", seen.TookEggs is { } took ? took ? "yes" : "no" : ""), ("eggs_taken", seen.EggsTaken is { } eggs ? Words.Numbers.Whole(eggs) : ""), ("certainty", isChance || !isExact ? "" : certainty), ("whole_day", isWholeDay ? "yes" : "") };
            var key = Key(isExact && seen.Source.Text(CameraColumns.Observation) is { Length: > 0 } said ? said : "event " + Words.Numbers.Whole(++events), isCounted: true);
            observations.Add([key, camera.Key, "", "", Moment(start), Moment(end), "event", shown, name, Cell.Whole(seen.Source.Text(CameraColumns.Count)) is > 0 and var n ? Words.Numbers.Whole(n) : "", isChance ? certainty : "", Tags(tags)]);
            covered.Add((camera, start, end));
        }

        private void Look(WrittenCamera camera, Visit look)
        {
            var at = look.VisitedOn is { } on && look.VisitedAt is { } time ? on.ToDateTime(time) : At(look.Nest, look.Day);
            if (at is { } moment) observations.Add([Key("look " + Words.Numbers.Whole(observations.Count + 1)), camera.Key, "", "", Moment(moment), Moment(moment), "event", "blank", "", "", "", "eggs_whole:" + Words.Numbers.Whole(look.EggsIntact!.Value)]);
            if (at is { } covers) covered.Add((camera, covers, covers));
        }

        /// <summary>Pictures of cameras; one that no event covers showed nothing, and that is written.</summary>
        private void Media(List<WrittenCamera> cameras)
        {
            if (season.Tables.Table(RecordKind.Media) is not { } table) return;
            var byKey = cameras.Where(c => c.Row is not null).GroupBy(c => c.Row!.Source.Text(CameraColumns.Deployment), StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.First(), StringComparer.Ordinal);
            var spans = covered.GroupBy(c => c.Camera).ToDictionary(g => g.Key, g => new SpansOfTime(g.Select(c => (c.From, c.To))));
            var pattern = FieldRule.Of("media").First(f => f.Name == "filePath");
            foreach (var row in table.Rows.Select(r => new Source(table, r)))
            {
                if (!byKey.TryGetValue(row.Text(CameraColumns.Deployment), out var camera) || row.Text(CameraColumns.Deployment).Length == 0 || WrittenCamera.Moment(row.Text("taken_at"), false) is not { } taken) continue;
                var (name, type) = (row.Text("media"), row.Text("type").Length > 0 ? row.Text("type") : "image/jpeg");
                var isHere = name.Length == 64 && name.All(char.IsAsciiHexDigitLower);
                var path = isHere ? "media/" + name + "." + type[(type.IndexOf('/') + 1)..] : row.Text("file");
                if (path.Length == 0 || pattern.Expected(path) is not null) continue;
                var (key, at) = (Key(name), taken.AddMinutes(-camera.AheadMin));
                media.Add([key, camera.Key, Moment(at), path, "false", row.Text("file").Split('/')[^1], type]);
                if (isHere) pictures.Add((name, path));
                if (spans.GetValueOrDefault(camera)?.Has(at) != true) observations.Add([Key("blank " + key), camera.Key, key, "", Moment(at), Moment(at), "media", "blank", "", "", "", ""]);
            }
        }

        private byte[] Description(List<WrittenCamera> cameras, DateTimeOffset at)
        {
            using var stream = new MemoryStream();
            using (var w = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n" }))
            {
                var chosen = cameras.Select(c => c.Row?.Chosen ?? "").Distinct().ToArray();
                JsonSerializer.Serialize(w, new Dictionary<string, object>
                {
                    ["name"] = isExact ? Plain(season.Settings.Name) + "-cameras" : "cameras",
                    ["profile"] = Address + "camtrap-dp-profile.json",
                    ["created"] = at.ToUniversalTime().ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture),
                    [Coarsened] = isExact ? "no" : "yes",
                    ["contributors"] = new[] { new { title = "not named", role = "contributor" } },
                    ["project"] = new { title = isExact ? season.Settings.Name : "simulated nests", samplingDesign = chosen is ["drawn"] ? "simpleRandom" : chosen.Contains("after_loss") ? "targeted" : "opportunistic", captureMethod = CaptureMethods, individualAnimals = false, observationLevel = Levels },
                    ["spatial"] = new { type = "MultiPoint", coordinates = cameras.Select(c => c.At).Distinct().Select(p => new[] { p.Longitude, p.Latitude }).ToArray() },
                    ["temporal"] = new { start = Day(cameras.Min(c => c.From)), end = Day(cameras.Max(c => c.To)) },
                    ["taxonomic"] = species.Select(s => new { scientificName = s }).ToArray(),
                    ["resources"] = CameraPackageReader.TableNames.Select(n => new { name = n, path = n + ".csv", profile = "tabular-data-resource", schema = Address + n + "-table-schema.json" }).ToArray(),
                });
            }

            return stream.ToArray();
        }

        private static WrittenCamera? CameraOf(List<WrittenCamera> cameras, CamerasAtNests there, Nest nest, Source source)
        {
            var row = there.Of(nest, source);
            return cameras.Find(c => c.Nest == nest && c.Row == row);
        }

        private static DateTime? At(Nest nest, double? day)
        {
            if (nest.SetOn is not { } set || day is not { } d || Math.Abs(d) > 3650) return null;
            var at = set.ToDateTime(nest.SetAt ?? new TimeOnly(12, 0)).AddDays(d);
            return new DateTime((at.Ticks + (TimeSpan.TicksPerSecond / 2)) / TimeSpan.TicksPerSecond * TimeSpan.TicksPerSecond);
        }

        private Position Coarse(Nest nest, Position exact) =>
            CoarseGrid.Middle(nest.Transect.Start ?? season.Nests.Where(n => n.Transect == nest.Transect).Select(n => n.Flag ?? n.At).FirstOrDefault(p => p is not null) ?? exact);

        private static int? Accuracy(Nest nest) => Cell.Number(nest.Source.Text("gps_accuracy_m")) is > 0 and < 1e6 and var m ? (int)Math.Ceiling(m) : null;

        private string Location(Nest nest) => isExact ? Shown(nest) : "line " + Words.Numbers.Whole(season.Transects.IndexOf(nest.Transect) + 1);

        private string Key(string wanted, bool isCounted = false)
        {
            if (isCounted && !wanted.StartsWith("event ", StringComparison.Ordinal)) events++;
            var key = wanted;
            for (var n = 2; !keys.Add(key); n++) key = wanted + " (" + Words.Numbers.Whole(n) + ")";
            return key;
        }

        private string Moment(DateTime local) => new DateTimeOffset(local, zone.GetUtcOffset(local)).ToString("yyyy-MM-ddTHH:mm:sszzz", CultureInfo.InvariantCulture);

        private static string Day(DateTime at) => at.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

        private static string Degrees(double x) => x.ToString("R", CultureInfo.InvariantCulture);

        private static string Tags(IEnumerable<(string Name, string Value)> tags) => string.Join('|', tags.Where(t => t.Value.Length > 0).Select(t => t.Name + ":" + t.Value.Replace('|', '/')));

        private static string Shown(Nest nest) => nest.Transect.Name + "-" + Words.Numbers.Whole(nest.Number);

        /// <summary>A name as the standard wants it: small letters, digits, points, lines.</summary>
        private static string Plain(string name) => string.Concat(name.ToLowerInvariant().Select(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '_' or '-' ? c : '-'));

        private static byte[] Csv(string header, List<string[]> rows)
        {
            using var to = new StringWriter { NewLine = "\n" };
            CsvText.Rows([.. header.Split(',')], rows, to);
            return Encoding.UTF8.GetBytes(to.ToString());
        }
    }
}
