using System.Collections.Immutable;
using System.Diagnostics;
using Tussock.Desk;
using Tussock.Exchange.OldSheets;
using Tussock.Records;
using Tussock.Results;
using Tussock.Store;

namespace Tussock.App.Serving.Desk;

/// <summary>What each season of the data file says, computed in the background and kept until that season has moved. May be shared between threads.</summary>
/// <remarks>Only what the page draws is kept: with many seasons the answers themselves would fill the memory.</remarks>
internal sealed class DeskYears(ServedSeasons seasons)
{
    private readonly ServedSeason served = seasons.Usual;
    private readonly Lock gate = new();
    private YearsKnown last = new([], null, []);
    private ImmutableDictionary<Guid, YearShown> known = ImmutableDictionary<Guid, YearShown>.Empty;
    private long lastAt = -1;
    private long broken = -1;
    private Task computing = Task.CompletedTask;

    /// <summary>How long it took the last time: what takes longer than a moment is not waited for.</summary>
    private TimeSpan? usual;

    /// <summary>What is known within a moment, and whether more is on its way.</summary>
    internal async Task<(YearsKnown Known, bool IsUpdating)> NowAsync(TimeSpan patience)
    {
        Task wait;
        var position = served.File.Position;
        lock (gate)
        {
            // What broke on these records would break again; newer ones may be better.
            if (lastAt == position || broken == position) return (last, false);
            if (computing.IsCompleted)
            {
                computing = Aside.Start(() => Compute(position), int.MaxValue);
                _ = computing.ContinueWith(t => Broken(t, position), CancellationToken.None, TaskContinuationOptions.OnlyOnFaulted, TaskScheduler.Default);
            }

            wait = computing;
            if (usual > patience) patience = TimeSpan.Zero;
        }

        if (!wait.IsCompleted) await Task.WhenAny(wait, Task.Delay(patience));
        lock (gate) return (last, lastAt != position && broken != position);
    }

    private void Broken(Task task, long position)
    {
        served.Fault?.Invoke(FaultAnswer.Told(task.Exception!.InnerException!, "–"));
        lock (gate) broken = position;
    }

    private void Compute(long position)
    {
        var clock = Stopwatch.StartNew();
        var moved = lastAt < 0 ? [] : served.File.Since(lastAt).Select(c => c.Season).ToHashSet();
        var years = served.File.Seasons().ToImmutableDictionary(s => s.Id, s => !moved.Contains(s.Id) && known.TryGetValue(s.Id, out var same) ? same : Year(s));
        ImmutableArray<YearShown> sorted = [.. years.Values.OrderBy(y => y.Year, StringComparer.Ordinal).ThenBy(y => y.Name, StringComparer.Ordinal)];
        // Each year as soon as it is there; together they take longer.
        lock (gate) (known, last) = (years, last with { Years = sorted });
        YearsTogether? together = null;
        ImmutableArray<Problem> stops = [];
        if (sorted.Length > 1 && sorted.All(y => y.Numbers is not null) && SeasonPooling.Pool([.. served.File.Seasons().Select(s => served.File.Tables(s.Name))], out stops) is { } pooled && SeasonReading.Read(pooled, out stops) is { } all) together = YearsTogether.Of(all);
        lock (gate) (last, lastAt, usual) = (new YearsKnown(sorted, together, stops), position, clock.Elapsed);
    }

    private YearShown Year(SeasonEntry entry)
    {
        if (SeasonReading.Read(served.File.Tables(entry.Name), out _) is not { } season) return new YearShown(entry.Name, entry.Year, null, AreSetDatesAssumed: false);
        return new YearShown(entry.Name, entry.Year, YearNumbers.Of(SeasonResults.Of(season)), season.Nests.Any(n => n.Source.Token(OldSheetSeason.SetOnAssumed) == "yes"));
    }
}

/// <summary>What is known of the years.</summary>
/// <param name="Years">Each for itself, the earliest first.</param>
/// <param name="Together">All pooled; null while it is on its way, where there is one season, or where something stops it.</param>
/// <param name="Stops">What stops it.</param>
internal sealed record YearsKnown(ImmutableArray<YearShown> Years, YearsTogether? Together, ImmutableArray<Problem> Stops);
