using System.Text;
using System.Text.Json;
using Tussock.Journal;
using Tussock.Store.Tables;

namespace Tussock.Store.Bulk;

/// <summary>Folds the journal again and compares it with the tables.</summary>
internal sealed class JournalCheck(Database database, string file, CancellationToken cancellation) : IDisposable
{
    private const int Most = 1000;
    private readonly FieldsJson json = new();
    private readonly Dictionary<string, Dictionary<Guid, (Guid Season, string Key, bool IsVoid, string Fields)>> tables = new(StringComparer.Ordinal);
    private readonly HashSet<(Guid Record, string Field, Guid Change, string Kind, string Value)> heads = [];
    private readonly List<Problem> problems = [];

    /// <summary>Everything that is wrong, up to a thousand findings.</summary>
    internal List<Problem> Run(Action<long>? progress)
    {
        foreach (var damage in database.Damage()) Add("damaged", Severity.Stop, ("file", file), ("what", damage));
        if (problems.Count > 0) return problems;
        Load();
        Fold(progress);
        foreach (var (kind, rows) in tables)
        {
            foreach (var (_, row) in rows) Add("row_orphan", Severity.Stop, ("kind", kind), ("key", NaturalKey.Shown(row.Key)));
        }

        foreach (var head in heads) Add("head_differs", Severity.Stop, ("kind", head.Kind), ("field", head.Field));
        return problems;
    }

    public void Dispose() => json.Dispose();

    private void Load()
    {
        var known = new HashSet<Guid>();
        foreach (var kind in JournalKind.All)
        {
            var rows = tables[kind] = [];
            using var row = database.Query("SELECT id, season, \"key\", is_void, fields FROM " + Mapping.TableOf(kind));
            while (row.Read()) rows.Add(JournalReader.Guid(row, 0), (JournalReader.Guid(row, 1), row.GetString(2), row.GetBoolean(3), row.GetString(4)));
            known.UnionWith(rows.Keys);
        }

        using (var row = database.Query("SELECT record, field, change, kind, value FROM field_head"))
        {
            while (row.Read()) heads.Add((JournalReader.Guid(row, 0), row.GetString(1), JournalReader.Guid(row, 2), row.GetString(3), row.GetString(4)));
        }

        using (var row = database.Query("SELECT record FROM import_row"))
        {
            while (row.Read()) if (!known.Contains(JournalReader.Guid(row, 0))) Add("digest_orphan", Severity.Stop);
        }
    }

    private void Fold(Action<long>? progress)
    {
        var changes = new List<Change>();
        long done = 0;
        foreach (var change in Readable())
        {
            if ((++done & 0xFFF) == 0)
            {
                cancellation.ThrowIfCancellationRequested();
                progress?.Invoke(done);
            }

            if (changes.Count > 0 && (changes[0].Record != change.Record || changes[0].Kind != change.Kind)) Compare(changes);
            changes.Add(change);
        }

        if (changes.Count > 0) Compare(changes);
    }

    /// <summary>The changes up to the first that can't be read: what stands behind it can't be judged.</summary>
    private IEnumerable<Change> Readable()
    {
        using var all = new JournalReader(database).ByRecord().GetEnumerator();
        while (true)
        {
            try
            {
                if (!all.MoveNext()) yield break;
            }
            catch (Exception broken) when (broken is JsonException or InvalidOperationException or KeyNotFoundException or ArgumentException or FormatException)
            {
                // A change that is no change any more is exactly what this command has to report.
                Add("change_unreadable", Severity.Stop);
                yield break;
            }

            yield return all.Current;
        }
    }

    private void Compare(List<Change> changes)
    {
        var record = Journal.Fold.Record(changes);
        changes.Clear();
        foreach (var field in record.Fields.Where(f => f.Heads.Length > 1))
        {
            foreach (var head in field.Heads)
            {
                if (!heads.Remove((record.Id, field.Name, head.Change, record.Kind, head.Value))) Add("head_differs", Severity.Stop, ("kind", record.Kind), ("field", field.Name));
            }
        }

        if (!record.IsCreated)
        {
            Add("waiting", Severity.Note, ("kind", record.Kind));
            return;
        }

        var shown = record.Shown();
        var key = NaturalKey.Of(record.Kind, shown);
        if (!tables.TryGetValue(record.Kind, out var rows)) return;
        if (!rows.Remove(record.Id, out var row)) Add("row_lacks", Severity.Stop, ("kind", record.Kind), ("key", NaturalKey.Shown(key)));
        else if (row != (record.Season, key, shown.IsVoid, Encoding.UTF8.GetString(json.Utf8(shown.Fields)))) Add("row_differs", Severity.Stop, ("kind", record.Kind), ("key", NaturalKey.Shown(key)));
    }

    private void Add(string rule, Severity severity, params ReadOnlySpan<(string Name, object Value)> arguments)
    {
        if (problems.Count >= Most) return;
        var todo = rule is "waiting" or "damaged" ? "store." + rule + "_todo" : "store.check_todo";
        problems.Add(new Problem(rule, severity, new Place(file), Phrase.Of("store." + rule, arguments), Phrase.Of(todo)));
    }
}
