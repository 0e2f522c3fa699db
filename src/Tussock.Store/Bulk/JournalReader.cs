using System.Data.Common;
using Tussock.Journal;

namespace Tussock.Store.Bulk;

/// <summary>Reads the journal.</summary>
internal sealed class JournalReader(Database database)
{
    private const string Columns = "SELECT id, batch, device, device_seq, season, kind, record, op, fields, \"by\", said_at, \"offset\", came_at, source, position, format FROM change ";
    private DbCommand? knows, one;

    /// <summary>Position of the last change; 0 when there is none.</summary>
    internal long Position => database.Number("SELECT COALESCE(MAX(position), 0) FROM change");

    /// <summary>Position and id of the last change; nothing when there is none.</summary>
    internal (long Position, Guid Id) Last
    {
        get
        {
            using var row = database.Query("SELECT position, id FROM change ORDER BY position DESC LIMIT 1");
            return row.Read() ? (row.GetInt64(0), Guid(row, 1)) : default;
        }
    }

    /// <summary>Id of the change at a position; null when there is none.</summary>
    internal Guid? At(long position)
    {
        using var row = database.Query("SELECT id FROM change WHERE position = $0", position);
        return row.Read() ? Guid(row, 0) : null;
    }

    /// <summary>Records of a season with a field that several changes stand behind.</summary>
    internal List<(string Kind, Guid Record)> Disputed(Guid season)
    {
        var records = new List<(string, Guid)>();
        using var row = database.Query("SELECT DISTINCT kind, record FROM field_head WHERE season = $0 ORDER BY kind, record", JournalWriter.Bytes(season));
        while (row.Read()) records.Add((row.GetString(0), Guid(row, 1)));
        return records;
    }

    /// <summary>Running number and id of the last change of a device; null when there is none.</summary>
    internal (long Seq, Guid Id)? LastOf(string device)
    {
        using var row = database.Query("SELECT device_seq, id FROM change WHERE device = $0 ORDER BY device_seq DESC LIMIT 1", device);
        return row.Read() ? (row.GetInt64(0), Guid(row, 1)) : null;
    }

    /// <summary>This data file's name as a device.</summary>
    internal string Device
    {
        get
        {
            using var row = database.Query("SELECT device FROM file_device");
            return row.Read() ? row.GetString(0) : throw new InvalidOperationException("The data file has no name as a device");
        }
    }

    /// <summary>Ids of all records that any change is about.</summary>
    internal HashSet<Guid> Records()
    {
        var records = new HashSet<Guid>();
        using var row = database.Query("SELECT DISTINCT record FROM change");
        while (row.Read()) records.Add(Guid(row, 0));
        return records;
    }

    internal bool Knows(Guid record)
    {
        knows ??= database.Prepared("SELECT EXISTS (SELECT 1 FROM change WHERE record = $0)", Array.Empty<byte>());
        knows.Parameters[0].Value = JournalWriter.Bytes(record);
        return Convert.ToBoolean(database.Scalar(knows));
    }

    /// <summary>The change with this id; null when there is none.</summary>
    internal Change? Change(Guid id)
    {
        one ??= database.Prepared(Columns + "WHERE id = $0", Array.Empty<byte>());
        one.Parameters[0].Value = JournalWriter.Bytes(id);
        using var row = database.Query(one);
        return row.Read() ? Change(row) : null;
    }

    /// <summary>All changes of a season, in no order.</summary>
    internal IEnumerable<Change> OfSeason(Guid season) => Read(Columns + "WHERE season = $0", JournalWriter.Bytes(season));

    /// <summary>Kinds of the records that wait for their creation, one entry a record.</summary>
    internal List<string> Waiting(Guid season)
    {
        var kinds = new List<string>();
        using var row = database.Query("SELECT DISTINCT kind, record FROM change AS c WHERE season = $0 AND op <> 0 AND NOT EXISTS (SELECT 1 FROM change AS d WHERE d.record = c.record AND d.kind = c.kind AND d.op = 0) ORDER BY kind", JournalWriter.Bytes(season));
        while (row.Read()) kinds.Add(row.GetString(0));
        return kinds;
    }

    internal List<Change> Of(string kind, Guid record) => [.. Read(Columns + "WHERE record = $0 AND kind = $1 ORDER BY id", JournalWriter.Bytes(record), kind)];

    internal List<Change> Of(Guid record) => [.. Read(Columns + "WHERE record = $0 ORDER BY id", JournalWriter.Bytes(record))];

    internal IEnumerable<Change> Since(long position) => Read(Columns + "WHERE position > $0 ORDER BY position", position);

    /// <summary>All changes, those of a record behind each other.</summary>
    internal IEnumerable<Change> ByRecord() => Read(Columns + "ORDER BY record, kind");

    private IEnumerable<Change> Read(string sql, params object[] values)
    {
        using var row = database.Query(sql, values);
        while (row.Read()) yield return Change(row);
    }

    private static Change Change(DbDataReader row) => new()
    {
        Id = Guid(row, 0),
        Batch = Guid(row, 1),
        Device = row.GetString(2),
        DeviceSeq = row.GetInt64(3),
        Season = Guid(row, 4),
        Kind = row.GetString(5),
        Record = Guid(row, 6),
        Op = (ChangeOp)row.GetInt32(7),
        Fields = FieldsJson.Changes(row.GetString(8)),
        By = row.GetString(9),
        SaidAt = DateTimeOffset.FromUnixTimeMilliseconds(row.GetInt64(10)).ToOffset(TimeSpan.FromMinutes(row.GetInt32(11))),
        CameAt = DateTimeOffset.FromUnixTimeMilliseconds(row.GetInt64(12)),
        Source = row.GetString(13),
        Position = row.GetInt64(14),
        Format = row.GetInt32(15),
    };

    internal static Guid Guid(DbDataReader row, int column) => new(row.GetFieldValue<byte[]>(column), bigEndian: true);
}
