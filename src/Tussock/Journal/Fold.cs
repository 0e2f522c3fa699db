using System.Collections.Immutable;

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
        var ordered = changes.Count == 1 ? changes : [.. changes.DistinctBy(c => c.Id).OrderBy(c => c.Id)];
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
        var first = ordered.FirstOrDefault(c => c.Op == ChangeOp.Create) ?? ordered.First();
        return new RecordState(first.Season, first.Kind, first.Record, first.Op == ChangeOp.Create, [.. fields.Select(f => new FieldState(f.Key, Heads(f.Value)))]);
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
