using System.Collections.Immutable;

namespace Tussock.Journal;

/// <summary>Compares the rows of one table with what is stored of them and with what the folder had at its last import.</summary>
internal sealed class RowComparison(IncomingTable table, string[] keys, ImmutableArray<string> digestFields, IReadOnlyDictionary<Guid, StoredRecord> records, Func<string, Guid, RecordState> record)
{
    private readonly int[] at = [.. table.Fields.Select(f => digestFields.IndexOf(f))];
    private readonly ulong[] hashes = new ulong[digestFields.Length];
    private readonly ImmutableArray<FieldChange>.Builder fields = ImmutableArray.CreateBuilder<FieldChange>();

    internal required StoredSeason Stored { get; init; }

    internal required ImmutableArray<Draft>.Builder Drafts { get; init; }

    internal required ImmutableArray<ImportFinding>.Builder Findings { get; init; }

    internal required ImmutableArray<KeyValuePair<Guid, RowDigest>>.Builder Digests { get; init; }

    internal int New { get; private set; }

    internal void Compare(int row, Guid id, double place)
    {
        RowDigest? before = Stored.Digests.TryGetValue(id, out var digest) ? digest : null;
        for (var i = 0; i < hashes.Length; i++) hashes[i] = before?[i] ?? 0;
        for (var i = 0; i < at.Length; i++) hashes[at[i]] = RowDigest.Hash(table.Text(row, i));
        var now = RowDigest.Of(hashes);
        if (before is null || !now.Equals(before.Value)) Digests.Add(KeyValuePair.Create(id, now));
        if (records.TryGetValue(id, out var known)) Change(row, known, before, now);
        else Create(row, id, place);
    }

    private void Create(int row, Guid id, double place)
    {
        New++;
        for (var i = 0; i < at.Length; i++) if (table.Text(row, i) is { Length: > 0 } text) fields.Add(new FieldChange(table.Fields[i], text, []));
        if (!double.IsNaN(place)) fields.Add(new FieldChange(FieldName.Row, Placing.Text(place), []));
        Drafts.Add(new Draft(table.Kind, id, ChangeOp.Create, fields.DrainToImmutable(), table.Source(row)));
    }

    private void Change(int row, StoredRecord known, RowDigest? before, RowDigest now)
    {
        RecordState? state = null;
        var op = ChangeOp.Set;
        if (known.IsVoid)
        {
            // Taken out in the data since, and untouched in the folder: it stays out.
            if (before is { } same && same.Equals(now))
            {
                Find(ImportCase.Kept, row, known, FieldName.Void);
                return;
            }

            state = record(table.Kind, known.Id);
            op = ChangeOp.Void;
            fields.Add(new FieldChange(FieldName.Void, "no", before is null ? state.Field(FieldName.Void)?.HeadIds ?? [] : []));
            Find(before is null ? ImportCase.Returned : ImportCase.Conflict, row, known, FieldName.Void);
        }

        for (var i = 0; i < at.Length; i++)
        {
            var name = table.Fields[i];
            var incoming = table.Text(row, i);
            var held = known.Text(name);
            if (incoming == held) continue;
            var found = before is { } last ? Case(RowDigest.Hash(incoming), RowDigest.Hash(held), last[at[i]]) : ImportCase.Changed;
            Find(found, row, known, name, held, incoming);
            if (found == ImportCase.Kept) continue;
            state ??= record(table.Kind, known.Id);
            fields.Add(new FieldChange(name, incoming, found == ImportCase.Changed ? state.Field(name)?.HeadIds ?? [] : []));
        }

        if (fields.Count > 0) Drafts.Add(new Draft(table.Kind, known.Id, op, fields.DrainToImmutable(), table.Source(row)));
    }

    private static ImportCase Case(ulong incoming, ulong held, ulong before) =>
        incoming == before ? ImportCase.Kept : held == before ? ImportCase.Changed : ImportCase.Conflict;

    private void Find(ImportCase found, int row, StoredRecord known, string field, string held = "", string incoming = "") =>
        Findings.Add(new ImportFinding(found, table.Kind, known.Id, NaturalKey.Shown(keys[row]), field, held, incoming, table.Line(row)));
}
