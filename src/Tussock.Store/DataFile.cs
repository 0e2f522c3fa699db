using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Data.Common;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store.Bulk;
using Tussock.Store.Media;
using Tussock.Store.Postgres;

namespace Tussock.Store;

/// <summary>One data file: any number of seasons, their journal and the tables that follow from it.</summary>
/// <remarks>
/// Nothing stays open between calls: each opens the file, does its work on one state of it and leaves one file behind. Reading changes no
/// byte. Every method throws <see cref="DataFileException"/> with a sentence for people when the file can't be used. May be shared between threads.
/// </remarks>
public sealed partial class DataFile
{
    private const int MostRecoveries = 20;
    private readonly Home home;
    private readonly bool canWrite;

    private DataFile(Home home, bool canWrite) => (this.home, this.canWrite) = (home, canWrite);

    /// <summary>What it is called in sentences for people; a file without its folder, a server without user and password.</summary>
    public string Name => home.Name;

    /// <summary>Path of what lies beside it: for a file its own path with an ending, for a server one in the folder that is set for such things.</summary>
    /// <param name="ending">The ending, for example <c>.reports</c>.</param>
    /// <exception cref="DataFileException">It is on a server, and no folder is set.</exception>
    public string Beside(string ending) => home.At(ending);

    /// <summary>Its photos and voice notes.</summary>
    public MediaStore Media => new(home);

    /// <summary>What DATA is called in sentences for people, whether there is any or not; never with a password.</summary>
    /// <param name="data">Path of a file, or how a server is reached.</param>
    public static string NameOf(string data)
    {
        if (!ServerAddress.Is(data)) return Path.GetFileName(data);
        try
        {
            return ServerHome.Reached(data).Name;
        }
        catch (DataFileException)
        {
            // It names no database; nothing of it is repeated.
            return "DATA";
        }
    }

    /// <summary>Whether DATA means a database on a server.</summary>
    public static bool IsOnServer(string data) => ServerAddress.Is(data);

    /// <summary>Whether DATA names something to be opened: a file that is there, or a database on a server, of which only the server knows.</summary>
    public static bool IsThere(string data) => ServerAddress.Is(data) || File.Exists(data);

    /// <summary>Called before every statement of a write with its text: tests make any one of them fail.</summary>
    internal Action<string>? BeforeWrite { get; init; }

    /// <summary>A data file that is there already, or a database on a server, to read.</summary>
    /// <param name="data">Path of a file, or how a server is reached: <c>Host=…;Database=…</c> or <c>postgresql://…</c>.</param>
    /// <exception cref="DataFileException">There is none, or it can't be read.</exception>
    public static DataFile OpenToRead(string data)
    {
        var file = new DataFile(Home.Of(data), false);
        file.home.MustExist();
        file.Reading(_ => 0, 0);
        return file;
    }

    /// <summary>A data file to write to; made, and brought up to date, when something is first written.</summary>
    /// <exception cref="DataFileException">The path is something else.</exception>
    /// <param name="data">Path of a file, or how a server is reached.</param>
    public static DataFile OpenToWrite(string data) => OpenToWrite(data, null);

    /// <summary>The same, where only data are meant that are there: a name that is spelled wrongly makes nothing.</summary>
    /// <param name="data">Path of a file, or how a server is reached.</param>
    /// <exception cref="DataFileException">There is none.</exception>
    public static DataFile OpenExisting(string data)
    {
        Home.Of(data).MustExist();
        return OpenToWrite(data);
    }

    internal static DataFile OpenToWrite(string data, Action<string>? beforeWrite)
    {
        var file = new DataFile(Home.Of(data), true) { BeforeWrite = beforeWrite };
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
        Reading(d => JournalSeason.Tables(Stored(d, name, cancellation), cancellation), null) ?? throw DataFileException.About("empty", home.Name);

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
            using var check = new JournalCheck(d, home.Name, cancellation);
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
            using (var writer = new JournalWriter(database, compared.Plan.Drafts.Length)) batch.Write(compared.Plan, signature, writer);
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
        using (var writer = new JournalWriter(database, drafts.Count)) batch.Write(drafts, signature, writer);
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
                using var database = home.Read();
                home.CopyTo(database, target);
                return 0;
            });
        }
        catch (DbException failure)
        {
            throw home.Meaning(failure) ?? (Exception)failure;
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
        if (seasons.Count == 0) throw DataFileException.About("empty", home.Name);
        var found = seasons.Find(s => s.Name == name) ?? throw DataFileException.About("no_season", home.Name, ("name", name), ("names", string.Join(", ", seasons.Select(s => s.Name))));
        return loader.Season(found.Id, withImport: false);
    }

    /// <summary>Reads one state of the file; <paramref name="nothing"/> when there is no file yet, or an empty one.</summary>
    private T Reading<T>(Func<Database, T> read, T nothing)
    {
        try
        {
            return home.IsNothing ? nothing : Recovering(() => ReadingOnce(read, nothing));
        }
        catch (DbException failure)
        {
            throw home.Meaning(failure) ?? (Exception)failure;
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
            catch (DbException failure) when (left > 0 && home.NeedsRepair(failure))
            {
                home.Repair();
            }
        }
    }

    private T ReadingOnce<T>(Func<Database, T> read, T nothing)
    {
        using var database = home.Read();
        using var transaction = database.Begin(isReadOnly: true);
        return home.StateOf(database) switch
        {
            HomeState.Current => read(database),
            HomeState.Older when !canWrite => throw DataFileException.About("older", home.Name),
            _ => nothing,
        };
    }

    private T Writing<T>(DateTimeOffset now, Func<Database, T> write)
    {
        if (!canWrite) throw new InvalidOperationException("The data file was opened to read");
        try
        {
            using var database = home.Write(now, BeforeWrite);
            if (home.StateOf(database) != HomeState.Current) home.BringUpToDate(database, now, BeforeWrite);
            return write(database);
        }
        catch (DbException failure)
        {
            throw home.Meaning(failure) ?? (Exception)failure;
        }
        catch (UnauthorizedAccessException)
        {
            throw DataFileException.About("read_only", home.Name);
        }
    }

    private sealed record Compared(ImportPlan Plan, bool IsNew, long Position);
}
