using System.Collections.Immutable;
using System.Runtime.InteropServices;
using System.Text.Json;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store.Media;
using Tussock.Store.Tables;

namespace Tussock.Store.Bulk;

/// <summary>Reads seasons from the tables.</summary>
internal sealed class SeasonLoader(Database database, CancellationToken cancellation)
{
    /// <summary>All seasons by name.</summary>
    internal List<SeasonEntry> Seasons()
    {
        using var json = new FieldsJson();
        var seasons = new List<SeasonEntry>();
        using var row = database.Query("SELECT id, fields FROM folder_season WHERE NOT is_void");
        while (row.Read())
        {
            var record = new StoredRecord(JournalReader.Guid(row, 0), json.Values(row.GetFieldValue<byte[]>(1)));
            seasons.Add(new SeasonEntry(record.Id, Plain(record.Text("season.name")), Plain(record.Text("season.year"))) { Archive = Plain(record.Text("season.archive")), IsCoarsened = Plain(record.Text("season.coarsened")) == "yes" });
        }

        return [.. seasons.OrderBy(s => s.Name, StringComparer.Ordinal).ThenBy(s => s.Id)];
    }

    /// <summary>Properties of the pastures of every season.</summary>
    internal List<(Guid Season, string Property)> Properties()
    {
        using var json = new FieldsJson();
        var named = new HashSet<(Guid, string)>();
        using var row = database.Query("SELECT season, id, fields FROM " + Mapping.TableOf(RecordKind.Pastures.Name) + " WHERE NOT is_void");
        while (row.Read())
        {
            var property = new StoredRecord(JournalReader.Guid(row, 1), json.Values(row.GetFieldValue<byte[]>(2))).Text("property");
            if (property.Length > 0) named.Add((JournalReader.Guid(row, 0), property));
        }

        return [.. named.OrderBy(n => n.Item2, StringComparer.Ordinal).ThenBy(n => n.Item1)];
    }

    /// <summary>Hashes of the photos that records name.</summary>
    internal ImmutableHashSet<string> PhotosNamed()
    {
        using var json = new FieldsJson();
        var named = ImmutableHashSet.CreateBuilder<string>(StringComparer.Ordinal);
        using var row = database.Query("SELECT id, fields FROM " + Mapping.TableOf(RecordKind.Media.Name) + " WHERE NOT is_void");
        while (row.Read())
        {
            var hash = new StoredRecord(JournalReader.Guid(row, 0), json.Values(row.GetFieldValue<byte[]>(1))).Text("media");
            if (MediaStore.IsHash(hash)) named.Add(hash);
        }

        return named.ToImmutable();
    }

    /// <summary>One season; what is remembered of its last import only when it is needed.</summary>
    internal StoredSeason Season(Guid id, bool withImport)
    {
        var records = JournalKind.All.ToImmutableDictionary(k => k, k => Records(k, id), StringComparer.Ordinal);
        var season = new StoredSeason { Id = id, Records = records };
        return withImport ? season with { Digests = Digests(id), DigestFields = Fields(id) } : season;
    }

    private ImmutableArray<StoredRecord> Records(string kind, Guid season)
    {
        using var json = new FieldsJson();
        var records = ImmutableArray.CreateBuilder<StoredRecord>();
        using var row = database.Query("SELECT id, fields FROM " + Mapping.TableOf(kind) + " WHERE season = $0", JournalWriter.Bytes(season));
        while (row.Read())
        {
            if ((records.Count & 0xFFF) == 0) cancellation.ThrowIfCancellationRequested();
            records.Add(new StoredRecord(JournalReader.Guid(row, 0), json.Values(row.GetFieldValue<byte[]>(1))));
        }

        return records.ToImmutable();
    }

    private Dictionary<Guid, RowDigest> Digests(Guid season)
    {
        var digests = new Dictionary<Guid, RowDigest>();
        using var row = database.Query("SELECT record, digest FROM import_row WHERE season = $0", JournalWriter.Bytes(season));
        while (row.Read()) digests.Add(JournalReader.Guid(row, 0), new RowDigest([.. MemoryMarshal.Cast<byte, ulong>(row.GetFieldValue<byte[]>(1))]));
        return digests;
    }

    private Dictionary<string, ImmutableArray<string>> Fields(Guid season)
    {
        var fields = new Dictionary<string, ImmutableArray<string>>(StringComparer.Ordinal);
        using var row = database.Query("SELECT kind, fields FROM import_fields WHERE season = $0", JournalWriter.Bytes(season));
        while (row.Read()) fields.Add(row.GetString(0), [.. JsonSerializer.Deserialize<string[]>(row.GetString(1)) ?? []]);
        return fields;
    }

    /// <summary>The text of a JSON text or number.</summary>
    internal static string Plain(string json)
    {
        if (json.Length == 0) return "";
        using var value = JsonDocument.Parse(json);
        return value.RootElement.ValueKind == JsonValueKind.String ? value.RootElement.GetString() ?? "" : value.RootElement.GetRawText();
    }
}
