using System.Runtime.InteropServices;
using Tussock.Journal;
using Tussock.Store.Tables;

namespace Tussock.Store.Bulk;

/// <summary>Writes changes and, in the same transaction, the tables that follow from them. The one write path of the store.</summary>
internal sealed class JournalWriter : IDisposable
{
    private const int Many = 1000;

    private readonly Database database;
    private readonly JournalReader reader;
    private readonly FieldsJson json = new();
    private readonly Statement change, digest, forget, fields, dropHeads, addHead;
    private readonly Dictionary<string, Statement> upserts = new(StringComparer.Ordinal);
    private readonly HashSet<(string Kind, Guid Record)> known = [];
    private readonly HashSet<(string Kind, Guid Record)> touched = [];
    private readonly HashSet<Guid>? there;

    /// <summary>Begins inside the open transaction.</summary>
    /// <param name="database">Where to.</param>
    /// <param name="expected">How many changes will come, roughly: for many, what is there is asked for once and not record by record.</param>
    internal JournalWriter(Database database, int expected)
    {
        this.database = database;
        reader = new JournalReader(database);
        there = reader.Position == 0 ? [] : expected > Many ? reader.Records() : null;
        change = database.Statement("INSERT INTO change (id, batch, device, device_seq, season, kind, record, op, fields, \"by\", said_at, \"offset\", came_at, source, position, format) VALUES ($0, $1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15)");
        digest = database.Statement("INSERT INTO import_row (record, season, digest) VALUES ($0, $1, $2) ON CONFLICT (record) DO UPDATE SET digest = excluded.digest");
        forget = database.Statement("DELETE FROM import_row WHERE record = $0");
        fields = database.Statement("INSERT INTO import_fields (season, kind, fields) VALUES ($0, $1, $2) ON CONFLICT (season, kind) DO UPDATE SET fields = excluded.fields");
        dropHeads = database.Statement("DELETE FROM field_head WHERE record = $0 AND kind = $1");
        addHead = database.Statement("INSERT INTO field_head (record, field, change, season, kind, value) VALUES ($0, $1, $2, $3, $4, $5)");
    }

    /// <summary>Writes one change. A new record's table row is written at once; others follow with <see cref="Project"/>.</summary>
    internal void Write(Change entry)
    {
        var key = (entry.Kind, entry.Record);
        var isFirst = entry.Op == ChangeOp.Create && !known.Contains(key) && !(there?.Contains(entry.Record) ?? reader.Knows(entry.Record));
        change.Id(entry.Id).Id(entry.Batch).Text(entry.Device).Number(entry.DeviceSeq).Id(entry.Season).Text(entry.Kind).Id(entry.Record).Number((int)entry.Op)
            .Text(json.Utf8(entry.Fields)).Text(entry.By).Number(entry.SaidAt.ToUnixTimeMilliseconds()).Number(entry.SaidAt.TotalOffsetMinutes)
            .Number(entry.CameAt.ToUnixTimeMilliseconds()).Text(entry.Source).Number(entry.Position).Number(entry.Format).Run();
        known.Add(key);
        there?.Add(entry.Record);
        if (isFirst) Upsert(entry.Season, entry.Kind, StoredRecord.Of(entry));
        else touched.Add(key);
    }

    /// <summary>Folds every record that got more than its creation, and writes its row and its heads.</summary>
    internal void Project()
    {
        foreach (var (kind, id) in touched)
        {
            var record = Fold.Record(reader.Of(kind, id));
            if (record.IsCreated) Upsert(record.Season, kind, record.Shown());
            dropHeads.Id(id).Text(kind).Run();
            foreach (var field in record.Fields.Where(f => f.Heads.Length > 1))
            {
                foreach (var head in field.Heads) addHead.Id(id).Text(field.Name).Id(head.Change).Id(record.Season).Text(kind).Text(head.Value).Run();
            }
        }

        touched.Clear();
    }

    internal void Remember(Guid season, Guid record, RowDigest row) => digest.Id(record).Id(season).Bytes(MemoryMarshal.AsBytes(row.Hashes.AsSpan())).Run();

    internal void Remember(Guid season, string kind, string names) => fields.Id(season).Text(kind).Text(names).Run();

    internal void Forget(Guid record) => forget.Id(record).Run();

    public void Dispose()
    {
        foreach (var statement in (Statement[])[change, digest, forget, fields, dropHeads, addHead, .. upserts.Values]) statement.Dispose();
        json.Dispose();
    }

    internal static byte[] Bytes(Guid id) => id.ToByteArray(bigEndian: true);

    private void Upsert(Guid season, string kind, StoredRecord record)
    {
        // A kind that a newer phone has and this version does not know: it stays in the journal and waits for a table.
        if (!JournalKind.All.Contains(kind)) return;
        if (!upserts.TryGetValue(kind, out var upsert))
        {
            upsert = database.Statement("INSERT INTO " + Mapping.TableOf(kind) + " (id, season, \"key\", is_void, fields) VALUES ($0, $1, $2, $3, $4) ON CONFLICT (id) DO UPDATE SET season = excluded.season, \"key\" = excluded.\"key\", is_void = excluded.is_void, fields = excluded.fields");
            upserts.Add(kind, upsert);
        }

        upsert.Id(record.Id).Id(season).Text(NaturalKey.Of(kind, record)).Flag(record.IsVoid).Text(json.Utf8(record.Fields)).Run();
    }
}
