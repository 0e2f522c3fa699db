using System.Runtime.InteropServices;
using Microsoft.Data.Sqlite;
using Tussock.Journal;
using Tussock.Store.Tables;

namespace Tussock.Store.Bulk;

/// <summary>Writes changes and, in the same transaction, the tables that follow from them. The one write path of the store.</summary>
internal sealed class JournalWriter : IDisposable
{
    private readonly Database database;
    private readonly JournalReader reader;
    private readonly FieldsJson json = new();
    private readonly SqliteCommand change, digest, forget, fields, dropHeads, addHead;
    private readonly Dictionary<string, SqliteCommand> upserts = new(StringComparer.Ordinal);
    private readonly HashSet<(string Kind, Guid Record)> known = [];
    private readonly HashSet<(string Kind, Guid Record)> touched = [];
    private readonly bool isEmpty;

    internal JournalWriter(Database database)
    {
        this.database = database;
        reader = new JournalReader(database);
        isEmpty = reader.Position == 0;
        change = Statement("INSERT INTO change (id, batch, device, device_seq, season, kind, record, op, fields, by, said_at, offset, came_at, source, position, format) VALUES ($0, $1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15) ON CONFLICT (id) DO NOTHING", 16);
        digest = Statement("INSERT INTO import_row (record, season, digest) VALUES ($0, $1, $2) ON CONFLICT (record) DO UPDATE SET digest = excluded.digest", 3);
        forget = Statement("DELETE FROM import_row WHERE record = $0", 1);
        fields = Statement("INSERT INTO import_fields (season, kind, fields) VALUES ($0, $1, $2) ON CONFLICT (season, kind) DO UPDATE SET fields = excluded.fields", 3);
        dropHeads = Statement("DELETE FROM field_head WHERE record = $0 AND kind = $1", 2);
        addHead = Statement("INSERT INTO field_head (record, field, change, season, kind, value) VALUES ($0, $1, $2, $3, $4, $5)", 6);
    }

    /// <summary>Writes one change. A new record's table row is written at once; others follow with <see cref="Project"/>.</summary>
    internal void Write(Change entry)
    {
        var key = (entry.Kind, entry.Record);
        var isFirst = entry.Op == ChangeOp.Create && !known.Contains(key) && (isEmpty || !reader.Knows(entry.Record));
        var count = Run(change, Bytes(entry.Id), Bytes(entry.Batch), entry.Device, entry.DeviceSeq, Bytes(entry.Season), entry.Kind, Bytes(entry.Record), (int)entry.Op,
            json.Text(entry.Fields), entry.By, entry.SaidAt.ToUnixTimeMilliseconds(), (int)entry.SaidAt.TotalOffsetMinutes, entry.CameAt.ToUnixTimeMilliseconds(), entry.Source, entry.Position, entry.Format);
        if (count == 0) return;
        known.Add(key);
        if (isFirst) Upsert(entry.Season, entry.Kind, Fold.Record([entry]).Shown());
        else touched.Add(key);
    }

    /// <summary>Folds every record that got more than its creation, and writes its row and its heads.</summary>
    internal void Project()
    {
        foreach (var (kind, id) in touched)
        {
            var record = Fold.Record(reader.Of(kind, id));
            if (record.IsCreated) Upsert(record.Season, kind, record.Shown());
            Run(dropHeads, Bytes(id), kind);
            foreach (var field in record.Fields.Where(f => f.Heads.Length > 1))
            {
                foreach (var head in field.Heads) Run(addHead, Bytes(id), field.Name, Bytes(head.Change), Bytes(record.Season), kind, head.Value);
            }
        }

        touched.Clear();
    }

    internal void Remember(Guid season, Guid record, RowDigest row) => Run(digest, Bytes(record), Bytes(season), MemoryMarshal.AsBytes(row.Hashes.AsSpan()).ToArray());

    internal void Remember(Guid season, string kind, string names) => Run(fields, Bytes(season), kind, names);

    internal void Forget(Guid record) => Run(forget, Bytes(record));

    public void Dispose() => json.Dispose();

    internal static byte[] Bytes(Guid id) => id.ToByteArray(bigEndian: true);

    private void Upsert(Guid season, string kind, StoredRecord record)
    {
        if (!upserts.TryGetValue(kind, out var upsert))
        {
            upsert = Statement("INSERT INTO " + Mapping.TableOf(kind) + " (id, season, \"key\", is_void, fields) VALUES ($0, $1, $2, $3, $4) ON CONFLICT (id) DO UPDATE SET season = excluded.season, \"key\" = excluded.\"key\", is_void = excluded.is_void, fields = excluded.fields", 5);
            upserts.Add(kind, upsert);
        }

        Run(upsert, Bytes(record.Id), Bytes(season), NaturalKey.Of(kind, record), record.IsVoid ? 1 : 0, json.Text(record.Fields));
    }

    private SqliteCommand Statement(string sql, int parameters)
    {
        var command = database.Prepared(sql);
        for (var i = 0; i < parameters; i++) command.Parameters.Add(new SqliteParameter("$" + i, null));
        return command;
    }

    private int Run(SqliteCommand command, params ReadOnlySpan<object> values)
    {
        for (var i = 0; i < values.Length; i++) command.Parameters[i].Value = values[i];
        return database.Run(command);
    }
}
