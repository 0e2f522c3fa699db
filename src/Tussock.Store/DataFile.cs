using System.Collections.Immutable;
using System.Security.Cryptography;
using Microsoft.Data.Sqlite;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store.Backup;
using Tussock.Store.Bulk;
using Tussock.Store.Sqlite;

namespace Tussock.Store;

/// <summary>One data file: any number of seasons, their journal and the tables that follow from it.</summary>
/// <remarks>
/// Nothing stays open between calls: each opens the file, does its work on one state of it and leaves one file behind. Reading changes no
/// byte. Every method throws <see cref="DataFileException"/> with a sentence for people when the file can't be used. May be shared between threads.
/// </remarks>
public sealed partial class DataFile
{
    private const int MostRecoveries = 20;
    private readonly string path;
    private readonly bool canWrite;

    private DataFile(string path, bool canWrite) => (this.path, this.canWrite) = (path, canWrite);

    /// <summary>Where it lies.</summary>
    public string FilePath => path;

    /// <summary>Called before every statement of a write with its text: tests make any one of them fail.</summary>
    internal Action<string>? BeforeWrite { get; init; }

    /// <summary>A data file that is there already, to read.</summary>
    /// <exception cref="DataFileException">There is none, or it can't be read.</exception>
    public static DataFile OpenToRead(string path)
    {
        FileState.CheckName(path);
        if (!File.Exists(path)) throw DataFileException.Of("no_such_file", path);
        var file = new DataFile(path, false);
        file.Reading(_ => 0, 0);
        return file;
    }

    /// <summary>A data file to write to; made, and brought up to date, when something is first written.</summary>
    /// <exception cref="DataFileException">The path is something else.</exception>
    public static DataFile OpenToWrite(string path) => OpenToWrite(path, null);

    internal static DataFile OpenToWrite(string path, Action<string>? beforeWrite)
    {
        FileState.CheckName(path);
        var file = new DataFile(path, true) { BeforeWrite = beforeWrite };
        file.Reading(_ => 0, 0);
        return file;
    }

    /// <summary>Order number of the last change; 0 when there is none.</summary>
    public long Position => Reading(d => new JournalReader(d).Position, 0);

    /// <summary>The seasons, by name.</summary>
    public ImmutableArray<SeasonEntry> Seasons() => Reading(d => [.. new SeasonLoader(d, default).Seasons()], ImmutableArray<SeasonEntry>.Empty);

    /// <summary>Properties that have a pasture, with the season that has it; each once, by name.</summary>
    public ImmutableArray<(Guid Season, string Property)> Properties() => Reading(d => [.. new SeasonLoader(d, default).Properties()], ImmutableArray<(Guid, string)>.Empty);

    /// <summary>The tables of a season, as a folder would have them, with ids.</summary>
    /// <param name="name">Name of the season.</param>
    /// <param name="cancellation">Stops the work.</param>
    public SeasonTables Tables(string name, CancellationToken cancellation = default) =>
        Reading(d => JournalSeason.Tables(Stored(d, name, cancellation), cancellation), null) ?? throw DataFileException.Of("empty", path);

    /// <summary>All changes of a record, oldest id first.</summary>
    public ImmutableArray<Change> Changes(Guid record) => Reading(d => [.. new JournalReader(d).Of(record)], ImmutableArray<Change>.Empty);

    /// <summary>All changes that arrived after a position, in order of arrival.</summary>
    public ImmutableArray<Change> Since(long position) => Reading(d => [.. new JournalReader(d).Since(position)], ImmutableArray<Change>.Empty);

    /// <summary>Everything wrong with the file: integrity, and whether the tables say what the journal says.</summary>
    /// <param name="progress">Told how many changes have been folded.</param>
    /// <param name="cancellation">Stops the work.</param>
    public ImmutableArray<Problem> Check(IProgress<long>? progress = null, CancellationToken cancellation = default) => Reading<ImmutableArray<Problem>>(
        d =>
        {
            using var check = new JournalCheck(d, Path.GetFileName(path), cancellation);
            return [.. check.Run(progress is null ? null : progress.Report)];
        },
        []);

    /// <summary>Imports a season: compares, and writes one batch unless there is nothing to do or somebody has to say yes first.</summary>
    /// <param name="request">What and how.</param>
    /// <param name="progress">Told how far it is.</param>
    /// <param name="cancellation">Stops the work; nothing is written then.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public ImportOutcome Import(ImportRequest request, IProgress<ImportProgress>? progress = null, CancellationToken cancellation = default)
    {
        progress?.Report(new ImportProgress(ImportStep.Comparing, 0, 0));
        var compared = Reading(d => Compare(d, request, cancellation), null) ?? CompareWithNothing(request, cancellation);
        if (EndBeforeWriting(compared.Plan, request) is { } end) return new ImportOutcome(end, compared.Plan, compared.IsNew, compared.Position);
        return Writing(request.Now, database =>
        {
            using var transaction = database.Begin();

            // Somebody may have written between the comparison and the lock: then it is made again, now for good.
            if (new JournalReader(database).Position != compared.Position) compared = Compare(database, request, cancellation);
            if (EndBeforeWriting(compared.Plan, request) is { } late) return new ImportOutcome(late, compared.Plan, compared.IsNew, compared.Position);
            var batch = new BatchWriter(database, progress, cancellation);
            var signature = batch.Signature(compared.Plan.Season, request.By, request.Now, RandomNumberGenerator.GetBytes(10));
            using (var writer = new JournalWriter(database)) batch.Write(compared.Plan, signature, writer);
            database.Commit(transaction);
            return new ImportOutcome(ImportEnd.Done, compared.Plan, compared.IsNew, signature.NextPosition - 1);
        });
    }

    /// <summary>Writes changes of one season as one batch: an edit, an undo.</summary>
    /// <param name="season">Id of the season.</param>
    /// <param name="drafts">The changes, in order.</param>
    /// <param name="by">Who.</param>
    /// <param name="now">When.</param>
    /// <returns>Position of the journal afterwards.</returns>
    public long Write(Guid season, IReadOnlyList<Draft> drafts, string by, DateTimeOffset now) => Writing(now, database =>
    {
        using var transaction = database.Begin();
        var batch = new BatchWriter(database, null, default);
        var signature = batch.Signature(season, by, now, RandomNumberGenerator.GetBytes(10));
        using (var writer = new JournalWriter(database)) batch.Write(drafts, signature, writer);
        database.Commit(transaction);
        return signature.NextPosition - 1;
    });

    /// <summary>Copies the file as it stands at this moment; an existing file is never overwritten.</summary>
    public void CopyTo(string target)
    {
        Reading(_ => 0, 0);
        try
        {
            Recovering(() =>
            {
                using var database = Database.Read(path);
                ConsistentCopy.Make(database, target);
                return 0;
            });
        }
        catch (SqliteException failure)
        {
            throw DataFileException.From(failure, target) ?? (Exception)failure;
        }
    }

    private static ImportEnd? EndBeforeWriting(ImportPlan plan, ImportRequest request)
    {
        if (!plan.Problems.IsEmpty) return ImportEnd.Stopped;
        if (request.Preview) return ImportEnd.Previewed;
        if (plan.IsNothing) return ImportEnd.NothingToDo;
        return plan.ChangesStored && !request.Apply ? ImportEnd.NeedsApply : null;
    }

    private static string NameOf(SeasonTables season) => SeasonLoader.Plain(season.Package.SeasonJson("name") ?? throw new ArgumentException("The season has no name", nameof(season)));

    private static Compared Compare(Database database, ImportRequest request, CancellationToken cancellation)
    {
        var reader = new JournalReader(database);
        var loader = new SeasonLoader(database, cancellation);
        var name = NameOf(request.Season);
        var known = loader.Seasons().FirstOrDefault(s => s.Name == name);
        var stored = known is null ? new StoredSeason { Id = NaturalKey.SeasonId(name) } : loader.Season(known.Id, withImport: true);
        var plan = Journal.Import.Compare(request.Season, stored, request.RemoveMissing, (kind, id) => Fold.Record(reader.Of(kind, id)), cancellation);
        return new Compared(plan, known is null, reader.Position);
    }

    private static Compared CompareWithNothing(ImportRequest request, CancellationToken cancellation)
    {
        var nothing = new StoredSeason { Id = NaturalKey.SeasonId(NameOf(request.Season)) };
        return new(Journal.Import.Compare(request.Season, nothing, request.RemoveMissing, (_, _) => throw new InvalidOperationException("Nothing is stored"), cancellation), true, 0);
    }

    private StoredSeason Stored(Database database, string name, CancellationToken cancellation)
    {
        var loader = new SeasonLoader(database, cancellation);
        var seasons = loader.Seasons();
        if (seasons.Count == 0) throw DataFileException.Of("empty", path);
        var found = seasons.Find(s => s.Name == name) ?? throw DataFileException.Of("no_season", path, ("name", name), ("names", string.Join(", ", seasons.Select(s => s.Name))));
        return loader.Season(found.Id, withImport: false);
    }

    /// <summary>Reads one state of the file; <paramref name="nothing"/> when there is no file yet, or an empty one.</summary>
    private T Reading<T>(Func<Database, T> read, T nothing)
    {
        try
        {
            return FileState.IsNothing(path) ? nothing : Recovering(() => ReadingOnce(read, nothing));
        }
        catch (SqliteException failure)
        {
            throw DataFileException.From(failure, path) ?? (Exception)failure;
        }
    }

    /// <summary>
    /// Reads again when the log beside the file can't be read as it is. A writer that was killed leaves it so: what it had begun must be rolled
    /// back, and that takes the right to write. One that is alive makes its log in two steps, so that a reader may come in between, and more than once.
    /// </summary>
    private T Recovering<T>(Func<T> read)
    {
        for (var left = MostRecoveries; ; left--)
        {
            try
            {
                return read();
            }
            catch (SqliteException failure) when (left > 0 && Database.NeedsRecovery(failure))
            {
                Database.Recover(path);
            }
        }
    }

    private T ReadingOnce<T>(Func<Database, T> read, T nothing)
    {
        using var database = Database.Read(path);
        using var transaction = database.Begin(isReadOnly: true);
        if (FileState.IsOlder(database, path)) return canWrite ? nothing : throw DataFileException.Of("older", path);
        return read(database);
    }

    private T Writing<T>(DateTimeOffset now, Func<Database, T> write)
    {
        if (!canWrite) throw new InvalidOperationException("The data file was opened to read");
        try
        {
            if (FileState.IsNothing(path)) DataFileMaking.Make(path, Uuid.FromTime(now, RandomNumberGenerator.GetBytes(10)), now, BeforeWrite);
            using var database = Database.Write(path, BeforeWrite);
            if (FileState.IsOlder(database, path)) DataFileMaking.Upgrade(database, path, now);
            return write(database);
        }
        catch (SqliteException failure)
        {
            throw DataFileException.From(failure, path) ?? (Exception)failure;
        }
        catch (UnauthorizedAccessException)
        {
            throw DataFileException.Of("read_only", path);
        }
    }

    private sealed record Compared(ImportPlan Plan, bool IsNew, long Position);
}
