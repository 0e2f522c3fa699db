using System.Collections.Immutable;
using System.Globalization;
using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using Tussock.Exchange.Places;
using Tussock.Exchange.SeasonFolder;
using Tussock.Journal;
using Tussock.Land;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Exchange.Archive;

/// <summary>An archive ready to be written.</summary>
/// <param name="Files">Its files by path.</param>
/// <param name="IsExact">Whether its places and names are exact.</param>
/// <param name="Events">How many events.</param>
/// <param name="Occurrences">How many occurrences.</param>
/// <param name="Words">Columns whose words go out as somebody wrote them, with these words: only a person can tell whether one of them says too much.</param>
public sealed record WrittenArchive(ImmutableArray<(string Name, byte[] Bytes)> Files, bool IsExact, int Events, int Occurrences, ImmutableArray<(string Column, ImmutableArray<string> Words)> Words);

/// <summary>Writes seasons as an archive to be published: a Darwin Core Archive, a Data Package 2.0 and a README in one folder or zip, from which the seasons can be made again.</summary>
/// <remarks>
/// Coarsened unless exact: the same cell of the public grid for all of a line, numbers instead of names. In both, notes, landmarks, pictures, names of people and columns that the
/// season folder does not know stay at home: what goes out is listed column by column in <see cref="ColumnHandings"/>. The same seasons give the same bytes.
/// </remarks>
public static class ArchiveWriter
{
    /// <summary>Folder of the season's tables in an archive.</summary>
    internal const string Tables = "tables/";

    /// <summary>Column that names the season of a row.</summary>
    internal const string SeasonColumn = "season";

    private static readonly DateTimeOffset ZipTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>Makes the archive.</summary>
    /// <param name="seasons">The seasons, one or more.</param>
    /// <param name="isExact">Whether places and names are exact. Seasons that came coarsened stay so.</param>
    /// <param name="licence">The licence as typed; null when none was chosen.</param>
    /// <param name="at">When it is written.</param>
    /// <param name="words">Language of its README.</param>
    public static WrittenArchive Of(IReadOnlyCollection<Season> seasons, bool isExact, string? licence, DateTimeOffset at, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(words);
        var sorted = seasons.OrderBy(s => s.Settings.Year, StringComparer.Ordinal).ThenBy(s => s.Settings.Name, StringComparer.Ordinal).ToArray();
        isExact &= !sorted.Any(s => ArchivedSettings.IsCoarsened(s.Tables.Package));
        var (names, chosen) = (new PublishedNames(sorted, isExact), Licence.Of(licence));
        var archived = new List<ArchivedSeason>();
        foreach (var season in sorted) archived.Add(ArchivedSeason.Of(season, Name(season, archived, names, isExact), names, isExact));
        var tables = ColumnHandings.Kinds.Select(k => Together(k, archived)).OfType<(ArchiveTable Table, byte[] Bytes)>().ToArray();
        var id = Id(archived, tables.Select(t => t.Bytes));
        var rows = new EventRows(names, id[..8], isExact, chosen?.InRows ?? "");
        for (var i = 0; i < archived.Count; i++) rows.Add(archived[i], i + 1);
        ArchiveTable[] all = [rows.Events, rows.Occurrences, rows.Facts, .. tables.Select(t => t.Table)];
        var title = Title(archived, isExact, words);
        string[] about = [words.Say("archive.readme_done_what"), words.Say(isExact ? "archive.readme_exact" : "archive.readme_coarse")];
        return new WrittenArchive(
        [
            (ReadmeText.File, ReadmeText.Of(words, title, isExact, chosen, archived, all)),
            (PackageText.File, PackageText.Of(id, title, string.Join(' ', about), isExact, chosen, at, archived, all)),
            (MetaXml.File, MetaXml.Of((rows.Events, Term.OfEvents), (rows.Occurrences, Term.OfOccurrences), (rows.Facts, Term.OfMeasurements))),
            (EmlText.File, EmlText.Of(id, title, about, chosen, words.Say("archive.no_licence"), DateOnly.FromDateTime(at.UtcDateTime), Days(sorted), Box(rows.Events))),
            .. all[..3].Select(t => (t.Path, Csv(t))),
            .. tables.Select(t => (t.Table.Path, t.Bytes)),
        ], isExact, rows.Events.Rows.Count, rows.Occurrences.Rows.Count, [.. Written(tables.Select(t => t.Table)), .. ArchivedSettings.Written(archived.Select(a => a.Settings))]);
    }

    /// <summary>Writes an archive as a folder, or as a zip where the path ends so. What stood there as an archive goes whole when it is replaced, so that no exact table stays beside coarsened ones.</summary>
    /// <returns>Why nothing was written; empty when all was.</returns>
    public static ImmutableArray<Problem> Write(WrittenArchive archive, string path, bool overwrite)
    {
        ArgumentNullException.ThrowIfNull(archive);
        if (IsZip(path)) return MapFiles.Write(path, overwrite, s => Zip(archive, s));
        var former = Directory.Exists(path) ? Known.Select(f => Path.Combine(path, f)).Where(File.Exists).ToArray() : [];
        // A season folder has a description and tables too: written over, its exact tables would stay beside the coarsened ones.
        if (Directory.Exists(path) && !ArchiveReader.Is(path) && Directory.EnumerateFileSystemEntries(path).Any()) return [new Problem("target_foreign", Severity.Stop, new Place(path), Phrase.Of("archive.foreign"), Phrase.Of("archive.foreign_todo"))];
        var wrong = MapFiles.WriteAll(path, overwrite, archive.Files);
        if (!wrong.IsEmpty) return wrong;
        // What is left of a former archive would tell what this one withholds.
        foreach (var file in former) if (!archive.Files.Any(f => Path.Combine(path, f.Name) == file)) File.Delete(file);
        return [];
    }

    /// <summary>Whether a path asks for a zip.</summary>
    internal static bool IsZip(string path) => Path.GetExtension(path).Equals(".zip", StringComparison.OrdinalIgnoreCase);

    /// <summary>Files that an archive may have.</summary>
    private static IEnumerable<string> Known => ColumnHandings.Kinds.Select(k => Tables + k.File).Concat([ReadmeText.File, PackageText.File, MetaXml.File, EmlText.File, "event.csv", "occurrence.csv", "measurement.csv"]);

    private static string Name(Season season, List<ArchivedSeason> before, PublishedNames names, bool isExact)
    {
        if (isExact) return season.Settings.Name;
        var year = ArchivedSettings.PublishedYear(season, names);
        var name = (year.Length > 0 ? year : "season " + Numbers.Fixed(before.Count + 1, 0)) + ", coarsened";
        var free = name;
        for (var n = 2; before.Exists(b => b.Name == free); n++) free = name + " (" + Numbers.Fixed(n, 0) + ")";
        return free;
    }

    private static ImmutableArray<(string, ImmutableArray<string>)> Written(IEnumerable<ArchiveTable> tables) =>
    [
        .. from table in tables
           let kind = RecordKind.Named(Path.GetFileNameWithoutExtension(table.Path))!
           from column in table.Columns
           where ColumnHandings.Of(kind, column) is Handing.Word or Handing.WordOrOther or Handing.Cover
           let words = OwnWords.Others(table.Rows.Select(r => r[table.Columns.IndexOf(column)]))
           where !words.IsEmpty
           select (kind.Name + "." + column, words),
    ];

    /// <summary>A kind's rows of all seasons in one table; null where none has any table of it.</summary>
    private static (ArchiveTable Table, byte[] Bytes)? Together(RecordKind kind, List<ArchivedSeason> seasons)
    {
        var parts = seasons.Select(s => (s.Name, Table: s.Tables.FirstOrDefault(t => t.Kind == kind))).Where(p => p.Table is not null).ToArray();
        if (parts.Length == 0) return null;
        ImmutableArray<string> columns = [SeasonColumn, .. parts.SelectMany(p => p.Table!.Columns).Distinct(StringComparer.Ordinal)];
        var rows = ImmutableArray.CreateBuilder<RecordRow>();
        foreach (var (name, table) in parts)
        {
            var from = columns.Select(table!.IndexOf).ToArray();
            foreach (var row in table.Rows) rows.Add(new RecordRow(rows.Count + 2, [name, .. from[1..].Select(i => i < 0 ? "" : row.Cells[i])]));
        }

        var together = new RecordTable(kind, columns, rows.ToImmutable());
        using var text = new StringWriter();
        CsvText.Write(together, text, CancellationToken.None);
        var fields = TableSchema.Of(together)["fields"]!.AsArray().Select(f => (JsonObject)f!.DeepClone()).ToArray();
        fields[0]["constraints"] = new JsonObject { ["required"] = true };
        var hasIds = columns.Contains("id");
        return (new ArchiveTable(kind == RecordKind.Events ? "land_events" : kind.Name, Tables + kind.File, [.. fields], [.. together.Rows.Select(r => r.Cells)])
        {
            Key = hasIds ? [] : Key(kind),
            Refers = kind == RecordKind.Pastures || kind == RecordKind.Crew || kind == RecordKind.Events || seasons.Exists(s => !s.Season.Clashes.IsEmpty) ? []
                : kind == RecordKind.Transects ? [("pastures", [SeasonColumn, "property", "pasture"], [SeasonColumn, "property", "pasture"])]
                : kind == RecordKind.Nests || kind == RecordKind.Belts ? [("transects", [SeasonColumn, "transect"], [SeasonColumn, "transect"])]
                : [("nests", [SeasonColumn, "transect", "nest"], [SeasonColumn, "transect", "nest"])],
        }, Encoding.UTF8.GetBytes(text.ToString()));
    }

    private static ImmutableArray<string> Key(RecordKind kind) => kind == RecordKind.Pastures ? [SeasonColumn, "property", "pasture"] : kind == RecordKind.Transects ? [SeasonColumn, "transect"] : kind == RecordKind.Nests ? [SeasonColumn, "transect", "nest"] : [];

    private static string Id(IEnumerable<ArchivedSeason> seasons, IEnumerable<byte[]> tables)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (var setting in seasons.SelectMany(s => s.Settings)) hash.AppendData(Encoding.UTF8.GetBytes(setting.Name + setting.Json + "\n"));
        foreach (var table in tables) hash.AppendData(table);
        return Uuid.FromName(Uuid.Seasons, Convert.ToHexString(hash.GetHashAndReset())).ToString("D");
    }

    private static string Title(List<ArchivedSeason> seasons, bool isExact, Catalogue words) => isExact
        ? string.Join(" · ", seasons.Select(s => s.Season.Settings.Title).Distinct(StringComparer.Ordinal))
        : words.Say(Phrase.Of("archive.title", ("seasons", string.Join("; ", seasons.Select(s => s.Name)))));

    private static byte[] Csv(ArchiveTable table)
    {
        using var text = new StringWriter();
        CsvText.Rows(table.Columns, table.Rows.Select(r => r.ToArray()), text);
        return Encoding.UTF8.GetBytes(text.ToString());
    }

    private static (DateOnly, DateOnly)? Days(Season[] seasons)
    {
        var days = seasons.SelectMany(s => s.Nests.Select(n => n.SetOn).Concat(s.Visits.Select(v => v.VisitedOn))).OfType<DateOnly>().ToArray();
        return days.Length == 0 ? null : (days.Min(), days.Max());
    }

    private static (Position, Position)? Box(ArchiveTable events)
    {
        var (lat, lon) = (events.Columns.IndexOf("decimalLatitude"), events.Columns.IndexOf("decimalLongitude"));
        var places = events.Rows.Where(r => r[lat].Length > 0).Select(r => new Position(double.Parse(r[lat], CultureInfo.InvariantCulture), double.Parse(r[lon], CultureInfo.InvariantCulture))).ToArray();
        return places.Length == 0 ? null : (new Position(places.Min(p => p.Latitude), places.Min(p => p.Longitude)), new Position(places.Max(p => p.Latitude), places.Max(p => p.Longitude)));
    }

    private static void Zip(WrittenArchive archive, Stream stream)
    {
        using var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true);
        foreach (var (name, bytes) in archive.Files)
        {
            var entry = zip.CreateEntry(name);
            entry.LastWriteTime = ZipTime;
            using var to = entry.Open();
            to.Write(bytes);
        }
    }
}
