using System.Collections.Immutable;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Http;
using Tussock.Desk.Pages;
using Tussock.Exchange.Places;
using Tussock.Records;

namespace Tussock.App.Serving.Desk;

/// <summary>Files of places let go over the map: shown first, taken when that is said, and forgotten when it is not.</summary>
internal sealed class DeskMapFiles(ServedSeason served)
{
    /// <summary>Greatest size of a form with files, bytes.</summary>
    internal const long MostBytes = 16 << 20;

    private const int MostKept = 4;
    private const int MostListed = 400;
    private const int LongestName = 80;
    private static readonly ImmutableArray<string> Beside = [".dbf", ".prj", ".cpg", ".shx"];
    private readonly Lock gate = new();
    private readonly List<(string Token, ImmutableArray<(string Name, MapReading Reading)> Files)> kept = [];

    /// <summary>Reads the files of a form and tells what they would change; nothing is written.</summary>
    internal (Type, Dictionary<string, object?>, int) Look(IFormFileCollection files, SeasonTables tables)
    {
        var readings = Read(files);
        var (after, wrong, lines) = (tables, ImmutableArray.CreateBuilder<(string, Phrase)>(), ImmutableArray.CreateBuilder<PlaceLine>());
        var (replaced, isStopped) = (0, readings.IsEmpty);
        foreach (var (name, reading) in readings)
        {
            foreach (var problem in reading.Problems) wrong.Add((problem.Place.ToString(), problem.What));
            isStopped |= reading.IsStopped;
            if (reading.IsStopped) continue;
            var taken = Taken(after, name, reading);
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
        ImmutableArray<(string Name, MapReading Reading)> files;
        lock (gate)
        {
            var at = kept.FindIndex(k => k.Token == token);
            if (at < 0) return false;
            files = kept[at].Files;
            kept.RemoveAt(at);
        }

        served.File.Edit(served.Season.Name, string.Join(", ", files.Select(f => f.Name)), t => files.Aggregate(t, (tables, f) => Taken(tables, f.Name, f.Reading).Tables), by, served.Clock.GetUtcNow());
        return true;
    }

    private static PlacesTaken Taken(SeasonTables tables, string name, MapReading reading) => PlacesTaken.Of(tables, reading.Features, isGps: name.EndsWith(".gpx", StringComparison.OrdinalIgnoreCase));

    private string Keep(ImmutableArray<(string, MapReading)> files)
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
    private static ImmutableArray<(string Name, MapReading Reading)> Read(IFormFileCollection files)
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

            return [.. names.Where(n => !Beside.Contains(Path.GetExtension(n).ToLowerInvariant())).Select(n => (n, MapFiles.Read(Path.Combine(folder.FullName, n))))];
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>A stranger's name of a file as one that can only be a name.</summary>
    internal static string NameOf(string name)
    {
        var last = name[(name.LastIndexOfAny(['/', '\\']) + 1)..];
        var plain = string.Concat(last.Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' or '.' or ' ' ? c : '_')).TrimStart('.').Trim();
        if (plain.Length > LongestName) plain = plain[^LongestName..];
        return plain.Length == 0 ? "_" : plain;
    }
}
