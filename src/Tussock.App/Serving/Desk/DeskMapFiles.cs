using System.Collections.Immutable;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Http;
using Tussock.App.Commands;
using Tussock.Desk.Pages;
using Tussock.Exchange.CameraPackage;
using Tussock.Exchange.Places;
using Tussock.Fieldwork.Cameras;
using Tussock.Records;

namespace Tussock.App.Serving.Desk;

/// <summary>Files of places, and packages of camera records, let go over the map: shown first, taken when that is said, and forgotten when it is not.</summary>
internal sealed class DeskMapFiles(ServedSeason served)
{
    /// <summary>Greatest size of a form with files, bytes.</summary>
    internal const long MostBytes = 16 << 20;

    private const int MostKept = 4;
    private const int MostListed = 400;
    private const int LongestName = 80;
    private static readonly ImmutableArray<string> Beside = [".dbf", ".prj", ".cpg", ".shx"];
    private readonly Lock gate = new();
    private readonly List<(string Token, ImmutableArray<LetGo> Files)> kept = [];

    /// <summary>Reads the files of a form and tells what they would change; nothing is written.</summary>
    internal (Type, Dictionary<string, object?>, int) Look(IFormFileCollection files, SeasonTables tables)
    {
        var readings = Read(files, tables);
        var (after, wrong, lines) = (tables, ImmutableArray.CreateBuilder<(string, Phrase)>(), ImmutableArray.CreateBuilder<PlaceLine>());
        var (replaced, isStopped) = (0, readings.IsEmpty);
        foreach (var file in readings)
        {
            foreach (var problem in file.Problems) wrong.Add((problem.Place.ToString(), problem.What));
            isStopped |= file.IsStopped;
            if (file.IsStopped) continue;
            var taken = Taken(after, file);
            isStopped |= !taken.Problems.IsEmpty;
            foreach (var problem in taken.Problems) wrong.Add((problem.Place.ToString(), problem.What));
            (after, replaced) = (taken.Tables, replaced + taken.Replaced);
            lines.AddRange(taken.Lines);
        }

        if (readings.IsEmpty) wrong.Add(("", Phrase.Of("desk.map_no_file")));
        var token = isStopped ? "" : Keep(readings);
        var told = lines.Where(l => l.IsChange || !l.IsTaken).ToArray();
        return (typeof(MapFilesPage), new()
        {
            ["Wrong"] = wrong.ToImmutable(), ["Lines"] = told.Take(MostListed).Select(l => (l.From.ToString(), l.What)).ToImmutableArray(), ["More"] = Math.Max(0, told.Length - MostListed), ["Replaced"] = replaced, ["Token"] = token,
            ["Changed"] = lines.Count(l => l.IsChange), ["Same"] = lines.Count(l => l.IsTaken && !l.IsChange), ["Left"] = lines.Count(l => !l.IsTaken),
        }, isStopped ? StatusCodes.Status422UnprocessableEntity : StatusCodes.Status200OK);
    }

    /// <summary>Takes in what was shown under a token; false when it is forgotten.</summary>
    internal bool Take(string token, string by)
    {
        ImmutableArray<LetGo> files;
        lock (gate)
        {
            var at = kept.FindIndex(k => k.Token == token);
            if (at < 0) return false;
            files = kept[at].Files;
            kept.RemoveAt(at);
        }

        served.File.Edit(served.Season.Name, string.Join(", ", files.Select(f => f.Name)), t => files.Aggregate(t, (tables, f) => Taken(tables, f).Tables), by, served.Clock.GetUtcNow());
        return true;
    }

    private static PlacesTaken Taken(SeasonTables tables, LetGo file) => file.Cameras is { } cameras ? Taken(tables, file.Name, cameras)
        : PlacesTaken.Of(tables, file.Places?.Features ?? [], isGps: file.Name.EndsWith(".gpx", StringComparison.OrdinalIgnoreCase));

    /// <summary>What a package of camera records would change; its pictures stay where they are.</summary>
    private static PlacesTaken Taken(SeasonTables tables, string name, CameraRecords records)
    {
        if (SeasonReading.Read(tables, out var problems) is not { } season) return new PlacesTaken { Tables = tables, Lines = [], Problems = problems, IsChanged = false, Replaced = 0 };
        var matching = new CameraMatching(season, records.Name, ImmutableDictionary<string, string>.Empty);
        var matches = records.Cameras.Select(matching.Of).ToArray();
        var taken = SeasonCameras.Of(season, records, matches, new CameraChoices());
        var lines = matches.Select(m => new PlaceLine(new Place(name), m.What, m.Nest is not null, m.Nest is not null && taken.IsChanged));
        var notes = taken.Notes.Append(Phrase.Of("desk.camera_pictures")).Select(n => new PlaceLine(new Place(name), n, true, taken.IsChanged));
        return new PlacesTaken { Tables = taken.Tables, Lines = [.. lines, .. notes], Problems = [], IsChanged = taken.IsChanged, Replaced = taken.Changed };
    }

    private string Keep(ImmutableArray<LetGo> files)
    {
        var token = Convert.ToHexString(RandomNumberGenerator.GetBytes(16));
        lock (gate)
        {
            if (kept.Count >= MostKept) kept.RemoveAt(0);
            kept.Add((token, files));
        }

        return token;
    }

    /// <summary>The files of a form, each read from a folder of its own that is gone afterwards: a shapefile needs what lies beside it.</summary>
    private static ImmutableArray<LetGo> Read(IFormFileCollection files, SeasonTables tables)
    {
        var folder = Directory.CreateTempSubdirectory("tussock-map-");
        try
        {
            var names = new List<string>();
            foreach (var file in files)
            {
                var name = NameOf(file.FileName);
                var path = Path.Combine(folder.FullName, name);
                if (File.Exists(path)) continue;
                using (var to = File.Create(path)) file.CopyTo(to);
                names.Add(name);
            }

            return [.. names.Where(n => !Beside.Contains(Path.GetExtension(n).ToLowerInvariant())).Select(n => Read(n, Path.Combine(folder.FullName, n), tables))];
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static LetGo Read(string name, string path, SeasonTables tables)
    {
        if (MapFiles.Is(path) || !CameraPackageReader.Is(path))
        {
            var places = MapFiles.Read(path);
            return new LetGo(name, places.Problems, places.IsStopped, places, null);
        }

        if (SeasonDay.Zone(SeasonReading.Read(tables, out _)?.Settings) is not { } zone) return new LetGo(name, [new Problem("time_zone", Severity.Stop, new Place(name), Phrase.Of("cameras.no_zone"), Phrase.Of("cameras.no_zone_todo"))], true, null, null);
        var reading = CameraPackageReader.Read(path, zone);
        return new LetGo(name, reading.Problems, reading.Records is null, null, reading.Records);
    }

    /// <summary>A file that was let go over the map.</summary>
    /// <param name="Name">Its name.</param>
    /// <param name="Problems">What is wrong with it.</param>
    /// <param name="IsStopped">Whether nothing of it can be taken.</param>
    /// <param name="Places">Its places; null for a package of camera records.</param>
    /// <param name="Cameras">Its camera records; null for places.</param>
    private sealed record LetGo(string Name, ImmutableArray<Problem> Problems, bool IsStopped, MapReading? Places, CameraRecords? Cameras);

    /// <summary>A stranger's name of a file as one that can only be a name.</summary>
    internal static string NameOf(string name)
    {
        var last = name[(name.LastIndexOfAny(['/', '\\']) + 1)..];
        var plain = string.Concat(last.Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' or '.' or ' ' ? c : '_')).TrimStart('.').Trim();
        if (plain.Length > LongestName) plain = plain[^LongestName..];
        return plain.Length == 0 ? "_" : plain;
    }
}
