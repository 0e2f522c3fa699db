using System.Runtime.InteropServices;

namespace Tussock.Journal;

/// <summary>Finds the record of each incoming row: by its id, else by its natural key, else it is a new one with an id made of the key.</summary>
/// <remarks>
/// Rows with equal keys (two looks at a nest on one day) go first to the records whose cells they had at the last import, then in order, so
/// that rows in another order are the same rows. A record is the match of one row only.
/// </remarks>
internal sealed class RowMatch(IncomingTable table, StoredSeason stored)
{
    private readonly Guid[] ids = new Guid[table.Count];
    private readonly HashSet<Guid> claimed = new(table.Count);
    private readonly Dictionary<Guid, StoredRecord> records = stored.Of(table.Kind).ToDictionary(r => r.Id);

    internal IReadOnlyDictionary<Guid, StoredRecord> Records => records;

    /// <summary>Rows whose id another row has, by row.</summary>
    internal List<int> Twice { get; } = [];

    /// <summary>Ids of the rows, in order; their keys are given because others need them too.</summary>
    internal Guid[] Ids(string[] keys)
    {
        if (table.Kind == JournalKind.Season)
        {
            ids[0] = stored.Id;
            return ids;
        }

        var open = new List<int>(table.Count);
        for (var row = 0; row < ids.Length; row++)
        {
            if (table.Id(row) is not { } id) open.Add(row);
            else if (claimed.Add(id)) ids[row] = id;
            else Twice.Add(row);
        }

        foreach (var (key, rows) in Groups(open, keys)) Match(key, rows);
        return ids;
    }

    private static Dictionary<string, List<int>> Groups(List<int> rows, string[] keys)
    {
        var groups = new Dictionary<string, List<int>>(rows.Count, StringComparer.Ordinal);
        foreach (var row in rows)
        {
            ref var group = ref CollectionsMarshal.GetValueRefOrAddDefault(groups, keys[row], out _);
            (group ??= new List<int>(1)).Add(row);
        }

        return groups;
    }

    private void Match(string key, List<int> rows)
    {
        var candidates = Candidates(key, rows.Count);
        if (rows.Count > 1) rows = Recognised(rows, candidates);
        foreach (var row in rows)
        {
            var next = candidates.FindIndex(c => !claimed.Contains(c));
            var id = next >= 0 ? candidates[next] : FirstFree(key);
            claimed.Add(id);
            ids[row] = id;
        }
    }

    /// <summary>Records that the rows of a key may be: those that its ids named at the last import or before they were taken out, then those with this key now.</summary>
    private List<Guid> Candidates(string key, int count)
    {
        var candidates = new List<Guid>();
        if (records.Count == 0) return candidates;
        for (var n = 1; n <= count || candidates.Count == n - 1; n++)
        {
            var id = NaturalKey.Id(stored.Id, table.Kind, key, n);
            if (records.TryGetValue(id, out var record) && (record.IsVoid || stored.Digests.ContainsKey(id))) candidates.Add(id);
            else if (n > count) break;
        }

        foreach (var id in ByKey.GetValueOrDefault(key, [])) if (!candidates.Contains(id)) candidates.Add(id);
        return candidates;
    }

    /// <summary>Gives rows to the records whose digest they have; returns the others.</summary>
    private List<int> Recognised(List<int> rows, List<Guid> candidates)
    {
        var fields = stored.DigestFields.GetValueOrDefault(table.Kind, []);
        var at = table.Fields.Select(f => fields.IndexOf(f)).ToArray();
        var others = new List<int>();
        foreach (var row in rows)
        {
            var same = candidates.FindIndex(c => !claimed.Contains(c) && stored.Digests.TryGetValue(c, out var digest) && IsSame(row, at, digest));
            if (same < 0)
            {
                others.Add(row);
                continue;
            }

            claimed.Add(candidates[same]);
            ids[row] = candidates[same];
        }

        return others;
    }

    private bool IsSame(int row, int[] at, RowDigest digest)
    {
        for (var i = 0; i < at.Length; i++) if (RowDigest.Hash(table.Text(row, i)) != digest[at[i]]) return false;
        return true;
    }

    private Guid FirstFree(string key)
    {
        for (var n = 1; ; n++)
        {
            var id = NaturalKey.Id(stored.Id, table.Kind, key, n);
            if (!claimed.Contains(id) && !records.ContainsKey(id)) return id;
        }
    }

    private Dictionary<string, List<Guid>> ByKey => byKey ??= records.Values.Where(r => !r.IsVoid)
        .GroupBy(r => NaturalKey.Of(table.Kind, r), r => r.Id, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.Order().ToList(), StringComparer.Ordinal);

    private Dictionary<string, List<Guid>>? byKey;
}
