using System.Collections.Immutable;
using System.IO.Compression;
using System.Text.Json;
using Tussock.Exchange.CameraPackage;
using Tussock.Exchange.Places;
using Tussock.Exchange.Reading;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using JsonProperty = Tussock.Records.JsonProperty;

namespace Tussock.Exchange.Archive;

/// <summary>Seasons of an archive, and all that is wrong with it.</summary>
/// <param name="Seasons">The seasons as tables, each checked; empty when anything stops an import.</param>
/// <param name="IsCoarsened">Whether places and names are not the true ones.</param>
/// <param name="Problems">What was found, by file and line.</param>
public sealed record ArchiveReading(ImmutableArray<SeasonTables> Seasons, bool IsCoarsened, ImmutableArray<Problem> Problems);

/// <summary>Reads an archive of this program again: a folder or a zip. Nothing is unpacked to a disk and nothing is fetched.</summary>
public static class ArchiveReader
{
    /// <summary>Name in a season's description that says of which archive it came.</summary>
    public const string Mark = ArchivedSettings.Archive;

    private const int DescriptionBytes = 16 << 20;
    private const int MostProblems = 200;
    private const int MostSeasons = 200;
    private static readonly CsvLimits Usual = CsvLimits.Usual with { FileBytes = 256L << 20 };

    /// <summary>Whether a source is an archive of this program, be it whole or broken.</summary>
    public static bool Is(string path)
    {
        var isZip = ArchiveWriter.IsZip(path) && File.Exists(path);
        if (!isZip && !Directory.Exists(path) && Path.GetFileName(path) != PackageText.File) return false;
        try
        {
            using var files = PackageFiles.Open(path);
            if (files.Bytes(PackageText.File, DescriptionBytes) is { } bytes && bytes.AsSpan().IndexOf(System.Text.Encoding.UTF8.GetBytes('"' + PackageText.Archive + '"')) >= 0) return true;
            return files.Has(ArchiveWriter.Tables + RecordKind.Nests.File) || files.Has(ArchiveWriter.Tables + RecordKind.Visits.File);
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException or InvalidDataException)
        {
            // Whoever reads other zips has to say what is wrong with it.
            return false;
        }
    }

    /// <summary>Reads an archive.</summary>
    /// <param name="path">Folder, description or zip.</param>
    /// <param name="cancel">Ends the reading.</param>
    public static ArchiveReading Read(string path, CancellationToken cancel = default) => Read(path, Usual, cancel);

    /// <summary>As above, with limits of one's own.</summary>
    internal static ArchiveReading Read(string path, CsvLimits limits, CancellationToken cancel = default)
    {
        var problems = new List<Problem>();
        var findings = new FileFindings(PackageText.File, MostProblems, problems, "archive");
        var (seasons, isCoarsened) = (ImmutableArray<SeasonTables>.Empty, false);
        try
        {
            using var files = PackageFiles.Open(path);
            if (ArchiveWriter.IsZip(path) && File.Exists(path)) Entries(path, problems);
            Meta(files, problems);
            if (files.Bytes(PackageText.File, DescriptionBytes) is not { } bytes) findings.Stop("no_description", null, null);
            else if (PackageReader.Read(bytes, new FileFindings(PackageText.File, MostProblems, problems)) is { } package) (seasons, isCoarsened) = Seasons(package, files, problems, findings, limits, cancel);
        }
        catch (Exception wrong) when (wrong is InvalidDataException or IOException or UnauthorizedAccessException or NotSupportedException)
        {
            // No zip that can be read, or bytes that can't be had: one sentence, nothing was taken in.
            var name = Path.GetFileName(Path.TrimEndingDirectorySeparator(path));
            new FileFindings(name, MostProblems, problems, "archive").Stop("unreadable", null, null, ("file", name));
        }

        findings.Close();
        return new ArchiveReading(problems.Exists(p => p.Severity == Severity.Stop) ? [] : seasons, isCoarsened, [.. problems]);
    }

    /// <summary>Refuses a zip with names that lead out of it; nothing would be written there, but whoever made it meant no good, or used a broken program.</summary>
    private static void Entries(string path, List<Problem> problems)
    {
        using var zip = ZipFile.OpenRead(path);
        foreach (var entry in zip.Entries)
        {
            if (FolderPath.Refusal(entry.FullName) is null) continue;
            new FileFindings(Path.GetFileName(path), MostProblems, problems, "archive").Stop("path_refused", null, null, ("path", TableCheck.Shown(entry.FullName)));
            return;
        }
    }

    /// <summary>The description of the Darwin Core Archive: it must be there, be one, and name files that are there.</summary>
    private static void Meta(PackageFiles files, List<Problem> problems)
    {
        var findings = new FileFindings(MetaXml.File, MostProblems, problems, "archive");
        if (files.Bytes(MetaXml.File, DescriptionBytes) is not { } bytes)
        {
            findings.Stop("file_missing", null, null, ("file", MetaXml.File));
            return;
        }

        var xml = new MapFindings(MetaXml.File);
        if (StrangerXml.Load(new MemoryStream(bytes), "archive", xml) is { } document)
        {
            var named = document.Descendants().Where(e => e.Name.LocalName == "location").Select(e => (File: e.Value.Trim(), At: e));
            if (document.Root?.Attribute("metadata")?.Value.Trim() is { Length: > 0 } about) named = named.Prepend((about, document.Root));
            foreach (var (file, at) in named)
            {
                if (FolderPath.Refusal(file) is not null) findings.Stop("path_refused", StrangerXml.Line(at), null, ("path", TableCheck.Shown(file)));
                else if (!files.Has(file)) findings.Stop("listed_missing", StrangerXml.Line(at), null, ("file", TableCheck.Shown(file)), ("list", MetaXml.File));
            }
        }

        problems.AddRange(xml.Reading().Problems);
        findings.Close();
    }

    private static (ImmutableArray<SeasonTables> Seasons, bool IsCoarsened) Seasons(SeasonPackage package, PackageFiles files, List<Problem> problems, FileFindings findings, CsvLimits limits, CancellationToken cancel)
    {
        var (isKnown, isCoarsened) = Marked(package, findings);
        Listed(package, files, findings);
        var rules = Rules(package, findings);
        var tables = ColumnHandings.Kinds.Select(k => Table(k, files, problems, limits, cancel)).OfType<RecordTable>().ToArray();
        // What is wrong with a table would be told again by everything that refers to its rows.
        if (!isKnown || rules.Count == 0 || problems.Exists(p => p.Severity == Severity.Stop && p.Place.File.StartsWith(ArchiveWriter.Tables, StringComparison.Ordinal))) return ([], isCoarsened);
        var id = Text(package, "id");
        var names = rules.Select(r => r.Name).ToHashSet(StringComparer.Ordinal);
        foreach (var table in tables) Strangers(table, names, problems);
        var seasons = rules.Select(r => Season(r.Name, r.Rules, id, tables)).ToImmutableArray();
        foreach (var season in seasons)
        {
            _ = SeasonReading.Read(season, out var wrong);
            problems.AddRange(wrong.Select(p => p with { Place = p.Place with { File = p.Place.File == PackageText.File ? p.Place.File : ArchiveWriter.Tables + p.Place.File } }));
        }

        return (seasons, isCoarsened);
    }

    /// <summary>The files that the description lists: each must be there. One that every archive has is told once, where it is looked for.</summary>
    private static void Listed(SeasonPackage package, PackageFiles files, FileFindings findings)
    {
        for (var i = 0; i < package.Resources.Length; i++)
        {
            using var json = JsonDocument.Parse(package.Resources[i]);
            var at = "resources[" + Words.Numbers.Fixed(i + 1, 0) + "].path";
            if (PackageReader.PathOf(json.RootElement) is not { } path || FolderPath.Refusal(path) is not null) findings.Stop("path_refused", null, at, ("path", TableCheck.Shown(json.RootElement.ValueKind == JsonValueKind.Object && json.RootElement.TryGetProperty("path", out var found) ? found.GetRawText() : "")));
            else if (!files.Has(FolderPath.Plain(path)) && !ColumnHandings.Kinds.Any(k => k.IsRequired && FolderPath.Plain(path) == ArchiveWriter.Tables + k.File)) findings.Stop("listed_missing", null, at, ("file", TableCheck.Shown(path)), ("list", PackageText.File));
        }
    }

    private static (bool IsKnown, bool IsCoarsened) Marked(SeasonPackage package, FileFindings findings)
    {
        var mark = package.Package.FirstOrDefault(p => p.Name == PackageText.Archive).Json;
        if (mark is null)
        {
            findings.Stop("no_mark", null, PackageText.Archive);
            return (false, false);
        }

        using var json = JsonDocument.Parse(mark);
        var root = json.RootElement;
        var isObject = root.ValueKind == JsonValueKind.Object;
        if (isObject && root.TryGetProperty("version", out var version) && version.ValueKind == JsonValueKind.Number && version.TryGetInt32(out var number) && number == 1
            && root.TryGetProperty(ArchivedSettings.Coarsened, out var coarse) && coarse.ValueKind == JsonValueKind.String && coarse.GetString() is "yes" or "no") return (true, coarse.GetString() == "yes");
        findings.Stop("other_version", null, PackageText.Archive, ("found", TableCheck.Shown(mark)));
        return (false, false);
    }

    /// <summary>The rules of each season, by its name.</summary>
    private static List<(string Name, ImmutableArray<JsonProperty> Rules)> Rules(SeasonPackage package, FileFindings findings)
    {
        var rules = new List<(string, ImmutableArray<JsonProperty>)>();
        var written = package.Package.FirstOrDefault(p => p.Name == PackageText.Seasons).Json ?? "[]";
        using var json = JsonDocument.Parse(written);
        var list = json.RootElement.ValueKind == JsonValueKind.Array ? json.RootElement.EnumerateArray().ToArray() : [];
        if (list.Length is 0 or > MostSeasons) findings.Stop("no_seasons", null, PackageText.Seasons, ("most", MostSeasons));
        for (var i = 0; i < list.Length && list.Length <= MostSeasons; i++)
        {
            var name = list[i].ValueKind == JsonValueKind.Object && list[i].TryGetProperty("name", out var n) && n.ValueKind == JsonValueKind.String ? n.GetString()! : "";
            if (name.Length == 0 || rules.Exists(r => r.Item1 == name)) findings.Stop("season_name", null, PackageText.Seasons + "[" + Words.Numbers.Fixed(i + 1, 0) + "]", ("found", name.Length == 0 ? Phrase.Of("reading.nothing") : TableCheck.Shown(name)));
            else rules.Add((name, [.. list[i].EnumerateObject().Select(p => new JsonProperty(p.Name, p.Value.GetRawText()))]));
        }

        return rules;
    }

    private static RecordTable? Table(RecordKind kind, PackageFiles files, List<Problem> problems, CsvLimits limits, CancellationToken cancel)
    {
        var path = ArchiveWriter.Tables + kind.File;
        var own = new FileFindings(path, MostProblems, problems, "archive");
        var bytes = new FileFindings(path, MostProblems, problems);
        if (!files.Has(path))
        {
            if (kind.IsRequired) own.Stop("file_missing", null, null, ("file", path));
            return null;
        }

        using var stream = files.Reading(path);
        var table = TableReader.Read(stream, kind, bytes, limits, cancel);
        bytes.Close();
        if (table is not null && table.IndexOf(ArchiveWriter.SeasonColumn) < 0) own.Stop("no_season_column", 1, ArchiveWriter.SeasonColumn, ("found", string.Join(", ", table.Columns.Take(30))));
        return table;
    }

    private static void Strangers(RecordTable table, HashSet<string> names, List<Problem> problems)
    {
        var findings = new FileFindings(ArchiveWriter.Tables + table.Kind.File, MostProblems, problems, "archive");
        foreach (var row in table.Rows.Select(r => new Source(table, r)).Where(r => !names.Contains(r.Text(ArchiveWriter.SeasonColumn))))
        {
            var found = row.Text(ArchiveWriter.SeasonColumn);
            findings.Stop("other_season", row.Row.Line, ArchiveWriter.SeasonColumn, ("found", found.Length == 0 ? Phrase.Of("reading.nothing") : TableCheck.Shown(found)), ("seasons", names.Order(StringComparer.Ordinal).Take(20).ToArray()));
        }

        findings.Close();
    }

    /// <summary>One season: its rows, and of its columns those in which it has written anything, or which every season has.</summary>
    private static SeasonTables Season(string name, ImmutableArray<JsonProperty> rules, string id, RecordTable[] tables)
    {
        var parts = new List<RecordTable>();
        foreach (var table in tables)
        {
            var at = table.IndexOf(ArchiveWriter.SeasonColumn);
            var rows = table.Rows.Where(r => r.Cells[at].Trim() == name).ToArray();
            if (rows.Length == 0 && !table.Kind.IsRequired) continue;
            var kept = Enumerable.Range(0, table.Columns.Length).Where(c => c != at && (table.Kind.ColumnNamed(table.Columns[c]) is { IsInHeader: true } || rows.Length == 0 || rows.Any(r => r.Cells[c].Length > 0))).ToArray();
            parts.Add(new RecordTable(table.Kind, [.. kept.Select(c => table.Columns[c])], [.. rows.Select(r => new RecordRow(r.Line, [.. kept.Select(c => r.Cells[c])]))]));
        }

        var title = rules.FirstOrDefault(r => r.Name == ArchivedSettings.Title).Json ?? JsonSerializer.Serialize(name);
        var season = rules.Where(r => r.Name is not (ArchivedSettings.Archive or ArchivedSettings.Title)).Append(new JsonProperty(ArchivedSettings.Archive, JsonSerializer.Serialize(id)));
        return SeasonDescription.Listed(new SeasonTables(new SeasonPackage([new JsonProperty("title", title)], [.. season], []), [.. parts], ImmutableSortedDictionary.Create<string, string>(StringComparer.Ordinal)));
    }

    private static string Text(SeasonPackage package, string name)
    {
        if (package.Package.FirstOrDefault(p => p.Name == name).Json is not { } json) return "";
        using var value = JsonDocument.Parse(json);
        return value.RootElement.ValueKind == JsonValueKind.String ? value.RootElement.GetString()! : "";
    }
}
