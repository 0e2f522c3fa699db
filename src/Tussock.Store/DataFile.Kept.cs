using System.Collections.Immutable;
using Tussock.Journal;
using Tussock.Store.Bulk;

namespace Tussock.Store;

/// <summary>One state of a season as a server keeps it between questions.</summary>
/// <param name="Id">Id of the season.</param>
/// <param name="Kept">Its tables.</param>
/// <param name="Disputed">Records with a value on which people differ, by kind and id.</param>
/// <param name="At">Position and id of the journal's last change.</param>
public sealed record KeptSeason(Guid Id, KeptTables Kept, ImmutableArray<RecordState> Disputed, (long Position, Guid Change) At);

/// <content>Seasons kept in memory, brought up to date by what is new.</content>
public sealed partial class DataFile
{
    /// <summary>More new changes than this are an import or a long absence: reading all anew is as quick.</summary>
    private const int MostNews = 20_000;

    /// <summary>Position and id of the journal's last change; nothing when there is none. The same means that nothing has changed.</summary>
    public (long Position, Guid Change) Last => Reading(d => new JournalReader(d).Last, default);

    /// <summary>A season to be kept in memory.</summary>
    /// <param name="name">Name of the season.</param>
    /// <param name="cancellation">Stops the work.</param>
    public KeptSeason Keep(string name, CancellationToken cancellation = default) => Reading(d => Kept(d, name, cancellation), null) ?? throw DataFileException.About("empty", home.Name);

    /// <summary>The season as it is now, read from the changes that are new where that will do.</summary>
    /// <param name="kept">The season as it was.</param>
    /// <param name="name">Its name.</param>
    /// <param name="cancellation">Stops the work.</param>
    public KeptSeason Newer(KeptSeason kept, string name, CancellationToken cancellation = default) => Reading(
        d =>
        {
            var reader = new JournalReader(d);
            var at = reader.Last;
            if (at == kept.At) return kept;
            // Where another change stands at our position the file is another: a backup was taken back.
            if (at.Position < kept.At.Position || at.Position - kept.At.Position > MostNews || (kept.At.Position > 0 && reader.At(kept.At.Position) != kept.At.Change)) return Kept(d, name, cancellation);
            var touched = new HashSet<(string, Guid)>();
            foreach (var change in reader.Since(kept.At.Position).Where(c => c.Season == kept.Id).ToList())
            {
                // Rows that get another place in the file are an import's: all of them may move.
                if (change.Op != ChangeOp.Create && change.Fields.Any(f => f.Name == FieldName.Row)) return Kept(d, name, cancellation);
                touched.Add((change.Kind, change.Record));
            }

            // What was written is another season's: the very same tables say so to whoever keeps an answer of them.
            if (touched.Count == 0) return kept with { At = at };
            return kept.Kept.With([.. touched.Select(t => Fold.Record(reader.Of(t.Item1, t.Item2)))]) is { } tables ? kept with { Kept = tables, Disputed = Disputed(reader, kept.Id), At = at } : Kept(d, name, cancellation);
        },
        null) ?? throw DataFileException.About("empty", home.Name);

    /// <summary>Seasons that have moved since a state of the file; null where that state is none of this file's, as after a backup was taken back.</summary>
    /// <param name="at">Position and id of the journal's last change then.</param>
    public ImmutableHashSet<Guid>? MovedSince((long Position, Guid Change) at) => Reading(
        d =>
        {
            var reader = new JournalReader(d);
            if (at.Position == 0 || reader.Last.Position < at.Position || reader.At(at.Position) != at.Change) return null;
            return reader.Since(at.Position).Select(c => c.Season).ToImmutableHashSet();
        },
        null);

    private KeptSeason Kept(Database database, string name, CancellationToken cancellation)
    {
        var stored = Stored(database, name, cancellation);
        var reader = new JournalReader(database);
        return new KeptSeason(stored.Id, KeptTables.Of(stored, cancellation), Disputed(reader, stored.Id), reader.Last);
    }

    private static ImmutableArray<RecordState> Disputed(JournalReader reader, Guid season) =>
        [.. reader.Disputed(season).Select(r => Fold.Record(reader.Of(r.Kind, r.Record))).Where(r => r.IsCreated && r.Fields.Any(f => f.IsConflict))];
}
