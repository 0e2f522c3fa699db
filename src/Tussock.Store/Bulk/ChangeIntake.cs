using System.Collections.Immutable;
using System.Data.Common;
using Tussock.Journal;

namespace Tussock.Store.Bulk;

/// <summary>Takes in changes that were made on other devices, inside the open transaction: each once, in whatever order they come.</summary>
internal sealed class ChangeIntake(Database database)
{
    private readonly JournalReader reader = new(database);
    private readonly HashSet<Guid> seasons = [.. new SeasonLoader(database, default).Seasons().Select(s => s.Id)];
    private readonly DbCommand numbered = database.Prepared("SELECT id FROM change WHERE device = $0 AND device_seq = $1", "", 0L);

    internal Received Take(IReadOnlyList<Change> changes)
    {
        var accepted = ImmutableArray.CreateBuilder<Guid>(changes.Count);
        var refused = ImmutableArray.CreateBuilder<RefusedChange>();
        var start = reader.Position;
        var position = start;
        using var writer = new JournalWriter(database, changes.Count);
        foreach (var change in changes)
        {
            if (Refusal(change, out var isKnown) is { } why)
            {
                refused.Add(new RefusedChange(change.Id, why, Keep: true));
                continue;
            }

            if (!isKnown) writer.Write(change with { Position = ++position });
            accepted.Add(change.Id);
        }

        writer.Project();
        return new Received(position, accepted.ToImmutable(), refused.ToImmutable(), (int)(position - start));
    }

    private Phrase? Refusal(Change change, out bool isKnown)
    {
        isKnown = false;
        if (!seasons.Contains(change.Season)) return Phrase.Of("field.refused.season");
        if (change.Kind is JournalKind.Season or JournalKind.Table or JournalKind.Text) return Phrase.Of("field.refused.description");
        if (reader.Change(change.Id) is { } stored)
        {
            isKnown = IsSame(stored, change);
            return isKnown ? null : Phrase.Of("field.refused.other_content");
        }

        numbered.Parameters[0].Value = change.Device;
        numbered.Parameters[1].Value = change.DeviceSeq;
        return database.Scalar(numbered) is null ? null : Phrase.Of("field.refused.number");
    }

    private static bool IsSame(Change a, Change b) =>
        (a.Batch, a.Device, a.DeviceSeq, a.Season, a.Kind, a.Record, a.Op) == (b.Batch, b.Device, b.DeviceSeq, b.Season, b.Kind, b.Record, b.Op)
        && a.By == b.By && a.SaidAt.EqualsExact(b.SaidAt) && a.Fields.Length == b.Fields.Length && a.Fields.Zip(b.Fields).All(p => IsSame(p.First, p.Second));

    private static bool IsSame(FieldChange a, FieldChange b) => a.Name == b.Name && a.Value == b.Value && a.Replaces.SequenceEqual(b.Replaces);
}
