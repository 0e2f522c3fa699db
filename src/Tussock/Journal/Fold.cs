using System.Collections.Immutable;
using System.Runtime.InteropServices;

namespace Tussock.Journal;

/// <summary>Makes records of a journal's changes: the same records from the same set of changes, in whatever order, pieces or number of copies they come.</summary>
/// <remarks>
/// Heads of a field = its changes that no other change of the record replaces in that field. One head, or equal values: that is the value.
/// Several: a conflict; all are kept, the one with the greatest change id is shown. No clock decides anything. Cost: time and memory in the number of field changes.
/// </remarks>
public static class Fold
{
    /// <summary>All records, by kind and id.</summary>
    /// <param name="changes">Changes in any order; a change may come more than once.</param>
    public static ImmutableArray<RecordState> Records(IEnumerable<Change> changes)
    {
        var byRecord = new Dictionary<(string Kind, Guid Record), List<Change>>();
        foreach (var change in changes)
        {
            if (!byRecord.TryGetValue((change.Kind, change.Record), out var list)) byRecord.Add((change.Kind, change.Record), list = []);
            list.Add(change);
        }

        return [.. byRecord.Values.Select(Record).OrderBy(r => r.Kind, StringComparer.Ordinal).ThenBy(r => r.Id)];
    }

    /// <summary>One record.</summary>
    /// <param name="changes">All changes of this record, at least one, in any order; a change may come more than once.</param>
    public static RecordState Record(IReadOnlyCollection<Change> changes)
    {
        if (changes.Count == 1 && Alone(changes.First()) is { } alone) return alone;
        Change[] ordered = [.. changes.DistinctBy(c => c.Id).OrderBy(c => c.Id)];
        var fields = new SortedDictionary<string, List<(Guid Change, FieldChange Field)>>(StringComparer.Ordinal);
        foreach (var change in ordered)
        {
            foreach (var field in change.Fields)
            {
                if (!fields.TryGetValue(field.Name, out var list)) fields.Add(field.Name, list = []);
                list.Add((change.Id, field));
            }
        }

        // Every change of a record names its season; were they to differ, the creation's would hold.
        var first = Array.Find(ordered, c => c.Op == ChangeOp.Create) ?? ordered[0];
        return new RecordState(first.Season, first.Kind, first.Record, first.Op == ChangeOp.Create, [.. fields.Select(f => new FieldState(f.Key, Heads(f.Value)))]);
    }

    /// <summary>What most records are: one change, whose fields are all there is; null when it names a field twice.</summary>
    private static RecordState? Alone(Change change)
    {
        var fields = new FieldState[change.Fields.Length];
        for (var i = 0; i < fields.Length; i++) fields[i] = new FieldState(change.Fields[i].Name, [new Head(change.Id, change.Fields[i].Value)]);
        Array.Sort(fields, static (a, b) => string.CompareOrdinal(a.Name, b.Name));
        for (var i = 1; i < fields.Length; i++) if (fields[i].Name == fields[i - 1].Name) return null;
        return new RecordState(change.Season, change.Kind, change.Record, change.Op == ChangeOp.Create, ImmutableCollectionsMarshal.AsImmutableArray(fields));
    }

    private static ImmutableArray<Head> Heads(List<(Guid Change, FieldChange Field)> changes)
    {
        if (changes.Count == 1) return [new Head(changes[0].Change, changes[0].Field.Value)];
        var replaced = new HashSet<Guid>();
        foreach (var (id, field) in changes) replaced.UnionWith(field.Replaces.Where(r => r != id));
        var heads = changes.Where(c => !replaced.Contains(c.Change)).Select(c => new Head(c.Change, c.Field.Value)).ToImmutableArray();

        // Changes that replace each other in a ring can't be made honestly; a field must still have a value.
        return heads.IsEmpty ? [new Head(changes[^1].Change, changes[^1].Field.Value)] : heads;
    }
}
