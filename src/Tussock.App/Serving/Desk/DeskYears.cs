using System.Collections.Immutable;
using System.Diagnostics;
using Tussock.Actions;
using Tussock.Desk;
using Tussock.Records;
using Tussock.Years;

namespace Tussock.App.Serving.Desk;

/// <summary>What each season of the data file says, computed in the background and kept until that season has moved. May be shared between threads.</summary>
/// <remarks>Only what the page draws is kept: with many seasons the answers themselves would fill the memory.</remarks>
internal sealed class DeskYears(ServedSeasons seasons)
{
    /// <summary>Nests of a season beyond which parity densities are left to the season's own page: each takes as long as everything else of a property.</summary>
    private const int MostForParity = 20_000;

    /// <summary>What is computed in less than this is not kept on the disk.</summary>
    private static readonly TimeSpan WorthKeeping = TimeSpan.FromSeconds(2);

    private readonly ServedSeason served = seasons.Usual;
    private readonly YearsKept kept = new(seasons.Usual.File);
    private readonly Lock gate = new();
    private YearsKnown last = new(YearsBeside.Of([]), null, []);
    private ImmutableDictionary<Guid, YearShown> known = ImmutableDictionary<Guid, YearShown>.Empty;
    private long lastAt = -1;

    /// <summary>State of the file that what is known was read at; nothing before the first time.</summary>
    private (long Position, Guid Change) readAt;
    private long broken = -1;
    private Task computing = Task.CompletedTask;

    /// <summary>What was kept beside the data, read at once: other work waits behind the answer of a season.</summary>
    private Task? reading;

    /// <summary>How long it took the last time: what takes longer than a moment is not waited for.</summary>
    private TimeSpan? usual;

    /// <summary>What is known within a moment, and whether more is on its way.</summary>
    /// <param name="patience">How long is waited for what is on its way.</param>
    /// <param name="isPage">Whether it is for a page, which does not wait for what took longer the last time.</param>
    internal async Task<(YearsKnown Known, bool IsUpdating)> NowAsync(TimeSpan patience, bool isPage = true)
    {
        Task wait;
        var position = served.File.Position;
        lock (gate)
        {
            // What broke on these records would break again; newer ones may be better.
            if (lastAt == position || broken == position) return (last, false);
            reading ??= Task.Run(FromKept);
            if (computing.IsCompleted)
            {
                computing = Aside.Start(() => Compute(position), int.MaxValue);
                _ = computing.ContinueWith(t => Broken(t, position), CancellationToken.None, TaskContinuationOptions.OnlyOnFaulted, TaskScheduler.Default);
            }

            wait = reading.IsCompleted ? computing : Task.WhenAll(reading, computing);
            if (isPage && usual > patience) patience = TimeSpan.Zero;
        }

        if (!wait.IsCompleted) await Task.WhenAny(wait, Task.Delay(patience));
        lock (gate) return (last, lastAt != position && broken != position);
    }

    /// <summary>Shows what was kept, as far as it goes.</summary>
    private void FromKept()
    {
        // First the state, then what is of it: what changes in between is read again.
        var state = served.File.Last;
        var years = kept.Read();
        if (years.IsEmpty) return;
        var beside = Beside(years);
        lock (gate) (known, last, readAt) = (years, last with { Beside = beside }, state);
    }

    private static YearsBeside Beside(ImmutableDictionary<Guid, YearShown> years) => YearsBeside.Of([.. years.Values.OrderBy(y => y.Year, StringComparer.Ordinal).ThenBy(y => y.Name, StringComparer.Ordinal)]);

    private void Broken(Task task, long position)
    {
        served.Fault?.Invoke(FaultAnswer.Told(task.Exception!.InnerException!, "–"));
        lock (gate) broken = position;
    }

    private void Compute(long position)
    {
        var clock = Stopwatch.StartNew();
        var at = served.File.Last;
        reading!.Wait();
        // Where the file is none that was read, as after a backup was taken back, nothing that is known counts.
        var moved = readAt.Position == 0 ? null : served.File.MovedSince(readAt);
        if (moved is null) known = ImmutableDictionary<Guid, YearShown>.Empty;
        var entries = served.File.Seasons();
        var asked = entries.Where(s => moved?.Contains(s.Id) == true || !known.ContainsKey(s.Id)).ToArray();
        var fresh = asked.Zip(served.File.OfEach([.. asked.Select(s => s.Name)], Lands), (entry, of) => (entry.Id, Year: new YearShown(entry.Name, entry.Year, of.Lands, of.IsStopped)));
        var years = known.Where(k => entries.Any(e => e.Id == k.Key)).ToImmutableDictionary().SetItems(fresh.Select(f => KeyValuePair.Create(f.Id, f.Year)));
        var beside = asked.Length == 0 && years.Count == last.Beside.Years.Length ? last.Beside : Beside(years);
        // Years beside each other as soon as they are there; pooled they take longer.
        lock (gate) (known, last, readAt) = (years, last with { Beside = beside }, at);
        if (asked.Length > 0 && (clock.Elapsed > WorthKeeping || kept.IsThere)) kept.Write(at, years);
        var whole = Pooled(beside);
        lock (gate) (last, lastAt, usual) = (whole, position, clock.Elapsed);
    }

    /// <summary>All seasons as one, and what is asked of that.</summary>
    private YearsKnown Pooled(YearsBeside beside)
    {
        var alone = new YearsKnown(beside, null, []);
        if (beside.Years.Length < 2 || beside.Years.Any(y => y.IsStopped) || beside.IsTooLargeToPool) return alone;
        var pooled = SeasonPooling.Pool([.. beside.Years.Select(y => served.File.Tables(y.Name))], out var stops);
        if (pooled is null || SeasonReading.Read(pooled, out stops) is not { } all) return alone with { Stops = stops };
        return alone with { Together = YearsTogether.Of(all), Actions = [.. BeforeAfterControl.Kinds(all).Select(kind => (kind, BeforeAfterControl.Of(all, kind)))] };
    }

    private static (ImmutableArray<PastureYear> Lands, bool IsStopped) Lands(SeasonTables tables) =>
        SeasonReading.Read(tables, out _) is { } season ? (PastureYears.Of(season, withParity: season.Nests.Length <= MostForParity), false) : ([], true);
}

/// <summary>What is known of the years.</summary>
/// <param name="Beside">Each for itself, beside each other.</param>
/// <param name="Together">All pooled; null while it is on its way, where there is one season, where they are too many nests, or where something stops it.</param>
/// <param name="Stops">What stops it.</param>
internal sealed record YearsKnown(YearsBeside Beside, YearsTogether? Together, ImmutableArray<Problem> Stops)
{
    /// <summary>For each kind of action on record, whether it worked, or why that can't be said.</summary>
    internal ImmutableArray<(string Kind, Answer<BeforeAfterControl> Contrast)> Actions { get; init; } = [];
}
