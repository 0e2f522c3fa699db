using System.Collections.Immutable;
using Tussock.Exchange.Reading;
using Tussock.Fieldwork.Cameras;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Exchange.CameraPackage;

/// <summary>From the rows of a package to records of cameras; what one table says of another is checked here.</summary>
internal sealed class PackageRecords(PackageDescription description, PackageTable deployments, PackageTable media, PackageTable observations, TimeZoneInfo zone, List<Problem> problems)
{
    private const int MostProblems = 200;
    private readonly Dictionary<string, FileFindings> byFile = new(StringComparer.Ordinal);

    /// <summary>The records; null when anything stops them.</summary>
    internal CameraRecords? Made()
    {
        Check();
        foreach (var file in byFile.Values) file.Close();
        if (problems.Exists(p => p.Severity == Severity.Stop)) return null;
        var owners = media.Rows.ToLookup(r => r.Text("deploymentID"), r => r.Text("captureMethod") == "timeLapse", StringComparer.Ordinal);
        var pictures = media.Rows.Select(r => new CameraPicture(r.Text("mediaID"), r.Text("deploymentID"), Local(r, "timestamp"), r.Text("filePath"), r.Text("fileMediatype"))).ToImmutableArray();
        var seen = observations.Rows.Select(Sighting).ToList();
        var looked = seen.Select(s => s.Picture).Where(p => p.Length > 0).ToHashSet(StringComparer.Ordinal);
        var spans = seen.Where(s => s.IsWholeVisit || s.Picture.Length == 0).GroupBy(s => s.Camera, StringComparer.Ordinal).ToDictionary(g => g.Key, g => new SpansOfTime(g.Select(s => (s.From, s.To))), StringComparer.Ordinal);
        seen.AddRange(pictures.Where(p => !looked.Contains(p.Key) && spans.GetValueOrDefault(p.Camera)?.Has(p.At) != true).Select(NotLooked));
        return new CameraRecords(description.Name, [.. deployments.Rows.Select(r => Camera(r, owners[r.Text("deploymentID")].Any(t => t)))], pictures, [.. seen]);
    }

    private void Check()
    {
        foreach (var row in deployments.Rows) Ordered(row, "deploymentStart", "deploymentEnd");
        foreach (var row in media.Rows) Refers(row, "deploymentID", deployments);
        var owner = media.Rows.GroupBy(r => r.Text("mediaID"), StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.First().Text("deploymentID"), StringComparer.Ordinal);
        foreach (var row in observations.Rows)
        {
            Refers(row, "deploymentID", deployments);
            Refers(row, "mediaID", media);
            Ordered(row, "eventStart", "eventEnd");
            if (owner.TryGetValue(row.Text("mediaID"), out var other) && other != row.Text("deploymentID")) Findings(row).Stop("other_camera", row.Line, "mediaID", ("found", TableCheck.Shown(row.Text("mediaID"))), ("camera", TableCheck.Shown(other)), ("expected", TableCheck.Shown(row.Text("deploymentID"))));
        }
    }

    private void Refers(PackageRow row, string column, PackageTable to)
    {
        var id = row.Text(column);
        if (id.Length > 0 && to.IsWhole && !to.HasId(id)) Findings(row).Stop("dangling", row.Line, column, ("column", column), ("found", TableCheck.Shown(id)), ("table", to.Name));
    }

    private void Ordered(PackageRow row, string start, string end)
    {
        if (FieldRule.Moment(row.Text(start)) > FieldRule.Moment(row.Text(end))) Findings(row).Stop("ends_before", row.Line, end, ("start", TableCheck.Shown(row.Text(start))), ("end", TableCheck.Shown(row.Text(end))));
    }

    private PlacedCamera Camera(PackageRow row, bool byTheClock)
    {
        var tags = CameraTags.Read(row.Text("deploymentTags"));
        string[] fields = ["locationName", "locationID", "deploymentID"];
        return new PlacedCamera
        {
            Key = row.Text("deploymentID"),
            Source = new Place(row.File, row.Line),
            Said = [.. tags.Select(t => (Field: "deploymentTags", Text: t.Key == "nest" ? t.Value : t.Value.Length == 0 ? t.Key : "")).Where(t => t.Text.Length > 0), .. fields.Select(f => (f, row.Text(f)))],
            At = Cell.Number(row.Text("latitude")) is { } lat && Cell.Number(row.Text("longitude")) is { } lon ? new Position(lat, lon) : null,
            AccuracyM = Cell.Number(row.Text("coordinateUncertainty")),
            From = Local(row, "deploymentStart"),
            To = Local(row, "deploymentEnd"),
            Camera = row.Text("cameraID").Length > 0 ? row.Text("cameraID") : row.Text("cameraModel"),
            HasClockIssues = FieldRule.Bool(row.Text("timestampIssues")) == true,
            TakesByTheClock = byTheClock,
            Tags = tags,
        };
    }

    private Sighting Sighting(PackageRow row)
    {
        var name = row.Text("scientificName");
        var tags = CameraTags.Read(row.Text("observationTags"));
        return new Sighting
        {
            Key = row.Text("observationID"),
            Camera = row.Text("deploymentID"),
            Picture = row.Text("mediaID"),
            Visit = row.Text("eventID"),
            IsWholeVisit = row.Text("observationLevel") == "event",
            From = Local(row, "eventStart"),
            To = Local(row, "eventEnd"),
            Shown = row.Text("observationType") switch
            {
                "animal" => ShownKind.Animal,
                "human" or "vehicle" => ShownKind.Person,
                "blank" => ShownKind.Blank,
                "unknown" => ShownKind.Unknown,
                _ => ShownKind.NotLooked,
            },
            IsSetUp = row.Text("cameraSetupType").Length > 0,
            Species = name,
            OtherNames = description.OtherNames.GetValueOrDefault(name, []),
            Count = Cell.Whole(row.Text("count")) ?? 1,
            Behaviours = [.. row.Text("behavior").Split('|', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)],
            Tags = tags,
            Certainty = row.Text("classificationProbability") is { Length: > 0 } chance ? chance : tags.FirstOrDefault(t => t.Key == "certainty").Value ?? "",
        };
    }

    /// <summary>A picture that nobody said anything about is one that nobody has looked at.</summary>
    private static Sighting NotLooked(CameraPicture picture) =>
        new() { Key = "media " + picture.Key, Camera = picture.Camera, Picture = picture.Key, From = picture.At, To = picture.At, Shown = ShownKind.NotLooked };

    private DateTime Local(PackageRow row, string column)
    {
        var local = TimeZoneInfo.ConvertTime(FieldRule.Moment(row.Text(column)) ?? default, zone).DateTime;
        return new DateTime(local.Ticks - (local.Ticks % TimeSpan.TicksPerSecond));
    }

    private FileFindings Findings(PackageRow row)
    {
        if (!byFile.TryGetValue(row.File, out var findings)) byFile.Add(row.File, findings = new FileFindings(row.File, MostProblems, problems, "camera_package"));
        return findings;
    }
}
