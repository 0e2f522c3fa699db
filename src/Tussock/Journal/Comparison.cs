using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Journal;

/// <summary>One import being worked out, table by table.</summary>
internal sealed class Comparison(StoredSeason stored, bool removeMissing, Func<string, Guid, RecordState> record, CancellationToken cancellation)
{
    private readonly ImmutableArray<Problem>.Builder problems = ImmutableArray.CreateBuilder<Problem>();
    private readonly ImmutableArray<Draft>.Builder drafts = ImmutableArray.CreateBuilder<Draft>();
    private readonly ImmutableArray<ImportFinding>.Builder findings = ImmutableArray.CreateBuilder<ImportFinding>();
    private readonly ImmutableArray<ImportCount>.Builder counts = ImmutableArray.CreateBuilder<ImportCount>();
    private readonly ImmutableArray<KeyValuePair<Guid, RowDigest>>.Builder digests = ImmutableArray.CreateBuilder<KeyValuePair<Guid, RowDigest>>();
    private readonly ImmutableArray<Guid>.Builder forgotten = ImmutableArray.CreateBuilder<Guid>();
    private readonly Dictionary<string, ImmutableArray<string>> digestFields = new(stored.DigestFields, StringComparer.Ordinal);
    private readonly HashSet<string> seen = new(StringComparer.Ordinal);

    internal void Add(IncomingTable table)
    {
        seen.Add(table.Kind);
        var keys = table.Keys();
        var match = new RowMatch(table, stored);
        var ids = match.Ids(keys);
        foreach (var row in match.Twice) problems.Add(IdTwice(table, row));
        if (problems.Count > 0) return;
        var start = findings.Count;
        var row0 = new RowComparison(table, keys, Fields(table), match.Records, record) { Stored = stored, Drafts = drafts, Findings = findings, Digests = digests };
        var places = table.HasPlaces ? Places(ids, match.Records) : [];
        for (var row = 0; row < ids.Length; row++)
        {
            if ((row & 0xFFF) == 0) cancellation.ThrowIfCancellationRequested();
            row0.Compare(row, ids[row], places.Length > 0 ? places[row] : double.NaN);
        }

        Missing(table.Kind, match.Records.Values, [.. ids]);
        Count(table.Kind, ids.Length, row0.New, start);
    }

    /// <summary>Tables that the data has and the folder lacks altogether: all their rows are missing.</summary>
    internal void AddAbsentTables()
    {
        foreach (var kind in RecordKind.All)
        {
            if (problems.Count > 0 || seen.Contains(kind.Name) || stored.Of(kind.Name).IsEmpty) continue;
            var start = findings.Count;
            Missing(kind.Name, stored.Of(kind.Name), []);
            Count(kind.Name, 0, 0, start);
        }
    }

    internal ImportPlan Plan() => problems.Count > 0 ? new ImportPlan { Season = stored.Id, Problems = problems.ToImmutable() } : new ImportPlan
    {
        Season = stored.Id,
        Drafts = drafts.ToImmutable(),
        Findings = findings.ToImmutable(),
        Counts = counts.ToImmutable(),
        Digests = digests.ToImmutable(),
        Forgotten = forgotten.ToImmutable(),
        DigestFields = digestFields.ToImmutableSortedDictionary(StringComparer.Ordinal),
    };

    private ImmutableArray<string> Fields(IncomingTable table)
    {
        var before = digestFields.GetValueOrDefault(table.Kind, []);
        var known = before.ToHashSet(StringComparer.Ordinal);
        return digestFields[table.Kind] = [.. before, .. table.Fields.Where(f => !known.Contains(f))];
    }

    private static double[] Places(Guid[] ids, IReadOnlyDictionary<Guid, StoredRecord> records)
    {
        var places = new double[ids.Length];
        for (var i = 0; i < ids.Length; i++)
        {
            if (!records.TryGetValue(ids[i], out var known)) places[i] = double.NaN;
            else places[i] = known.Place < double.MaxValue ? known.Place : double.PositiveInfinity;
        }

        Placing.Fill(places, records.Values.Select(r => r.Place).Where(p => p < double.MaxValue).DefaultIfEmpty(0).Max());
        return places;
    }

    private void Missing(string kind, IEnumerable<StoredRecord> records, HashSet<Guid> present)
    {
        // Nobody takes out the list of a table's columns by leaving the table away: its rows may stay.
        if (kind == JournalKind.Table) return;
        foreach (var known in records.Where(r => !present.Contains(r.Id) && stored.Digests.ContainsKey(r.Id)))
        {
            if (removeMissing) forgotten.Add(known.Id);
            if (known.IsVoid) continue;
            findings.Add(new ImportFinding(removeMissing ? ImportCase.Removed : ImportCase.Missing, kind, known.Id, NaturalKey.Shown(NaturalKey.Of(kind, known)), "", "", "", 0));
            if (!removeMissing) continue;
            drafts.Add(new Draft(kind, known.Id, ChangeOp.Void, [new FieldChange(FieldName.Void, "yes", record(kind, known.Id).Field(FieldName.Void)?.HeadIds ?? [])]));
        }
    }

    private void Count(string kind, int rows, int fresh, int start)
    {
        if (RecordKind.Named(kind) is null) return;
        var byCase = findings.Skip(start).GroupBy(f => f.Case).ToDictionary(g => g.Key, g => g.Select(f => f.Record).ToHashSet());
        HashSet<Guid> In(ImportCase one) => byCase.GetValueOrDefault(one, []);
        counts.Add(new ImportCount(kind, rows, fresh, In(ImportCase.Changed).Union(In(ImportCase.Returned)).Count(),
            In(ImportCase.Conflict).Count, In(ImportCase.Kept).Count, In(ImportCase.Missing).Count, In(ImportCase.Removed).Count));
    }

    private static Problem IdTwice(IncomingTable table, int row) =>
        new("duplicate_id", Severity.Stop, new Place(RecordKind.Named(table.Kind)!.File, table.Line(row), "id"), Phrase.Of("store.id_twice", ("id", table.Id(row)!.Value.ToString())), Phrase.Of("store.id_twice_todo"));
}
