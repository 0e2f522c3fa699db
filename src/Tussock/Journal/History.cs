using System.Collections.Immutable;

namespace Tussock.Journal;

/// <summary>One step in the history of a value.</summary>
/// <param name="Change">The change.</param>
/// <param name="Value">The value that it wrote.</param>
/// <param name="Former">The values that it replaced, by change id; none when it was the first, or written without sight of another.</param>
public sealed record HistoryStep(Change Change, string Value, ImmutableArray<string> Former);

/// <summary>The history of a value, and the way back.</summary>
public static class History
{
    /// <summary>The steps of one field, oldest change id first.</summary>
    /// <param name="changes">All changes of one record, in any order.</param>
    /// <param name="field">Name of the field.</param>
    public static ImmutableArray<HistoryStep> Of(IEnumerable<Change> changes, string field)
    {
        var steps = Steps(changes, field);
        var values = steps.ToDictionary(s => s.Change.Id, s => s.Field.Value);
        return [.. steps.Select(s => new HistoryStep(s.Change, s.Field.Value, [.. s.Field.Replaces.Order().Where(values.ContainsKey).Select(r => values[r])]))];
    }

    /// <summary>The change that takes a field back to its former value; null when the field has no former value, or is in conflict (a conflict is settled, not undone).</summary>
    /// <param name="changes">All changes of one record, at least one, in any order.</param>
    /// <param name="field">Name of the field.</param>
    public static Draft? Undo(IReadOnlyCollection<Change> changes, string field)
    {
        var record = Fold.Record(changes);
        if (record.Field(field) is not { Heads.Length: 1 } state) return null;
        var steps = Steps(changes, field);
        var last = steps.First(s => s.Change.Id == state.Heads[0].Change);
        if (last.Field.Replaces.IsDefaultOrEmpty) return null;
        var former = steps.LastOrDefault(s => last.Field.Replaces.Contains(s.Change.Id));
        return former.Change is null ? null : new Draft(record.Kind, record.Id, field == FieldName.Void ? ChangeOp.Void : ChangeOp.Set, [new FieldChange(field, former.Field.Value, state.HeadIds)]);
    }

    private static List<(Change Change, FieldChange Field)> Steps(IEnumerable<Change> changes, string field) =>
        [.. changes.DistinctBy(c => c.Id).OrderBy(c => c.Id).SelectMany(c => c.Fields.Where(f => f.Name == field), (c, f) => (c, f))];
}
