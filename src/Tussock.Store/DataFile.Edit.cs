using System.Security.Cryptography;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store.Bulk;

namespace Tussock.Store;

public sealed partial class DataFile
{
    /// <summary>Changes a stored season by a source other than its folder, as one batch: what was there is replaced, and the next import of the folder still knows what the folder said.</summary>
    /// <param name="season">Name of the season.</param>
    /// <param name="source">Where the changes come from, for the history: the name of a file.</param>
    /// <param name="edit">The season with the changes. Pure: it is asked again when somebody has written meanwhile.</param>
    /// <param name="by">Who.</param>
    /// <param name="now">When.</param>
    /// <param name="cancellation">Stops the work; nothing is written then.</param>
    /// <returns>How it ended and what it changed.</returns>
    public ImportOutcome Edit(string season, string source, Func<SeasonTables, SeasonTables> edit, string by, DateTimeOffset now, CancellationToken cancellation = default) => Writing(now, database =>
    {
        using var transaction = database.Begin();
        var reader = new JournalReader(database);
        var stored = Stored(database, season, cancellation);
        var changed = edit(JournalSeason.Tables(stored, cancellation));

        // Without what is remembered of the last import every difference is a plain change; and nothing of it is remembered as the folder's.
        var plan = Journal.Import.Compare(changed, stored, removeMissing: false, (kind, id) => Fold.Record(reader.Of(kind, id)), cancellation);
        if (!plan.Problems.IsEmpty || plan.Drafts.IsEmpty) return new ImportOutcome(plan.Problems.IsEmpty ? ImportEnd.NothingToDo : ImportEnd.Stopped, plan, false, reader.Position);
        var batch = new BatchWriter(database, null, cancellation);
        var signature = batch.Signature(plan.Season, by, now, RandomNumberGenerator.GetBytes(10));
        using (var writer = new JournalWriter(database, plan.Drafts.Length)) batch.Write([.. plan.Drafts.Select(d => d with { Source = source })], signature, writer);
        database.Commit(transaction);
        return new ImportOutcome(ImportEnd.Done, plan, false, signature.NextPosition - 1);
    });
}
