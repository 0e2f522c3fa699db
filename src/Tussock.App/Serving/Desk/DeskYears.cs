using System.Collections.Immutable;
using Tussock.Desk;
using Tussock.Exchange.OldSheets;
using Tussock.Records;
using Tussock.Results;
using Tussock.Store;

namespace Tussock.App.Serving.Desk;

/// <summary>The answers of all seasons of the data file, computed in the background and kept until the file has moved. May be shared between threads.</summary>
internal sealed class DeskYears(ServedSeason served)
{
    private readonly Lock gate = new();
    private ImmutableArray<YearShown> last = [];
    private long lastAt = -1;
    private long broken = -1;
    private Task computing = Task.CompletedTask;

    /// <summary>What is known within a moment, and whether more is on its way.</summary>
    internal async Task<(ImmutableArray<YearShown> Years, bool IsUpdating)> NowAsync(TimeSpan patience)
    {
        Task wait;
        var position = served.File.Position;
        lock (gate)
        {
            // What broke on these records would break again; newer ones may be better.
            if (lastAt == position || broken == position) return (last, false);
            if (computing.IsCompleted)
            {
                computing = Task.Run(() => Compute(position));
                _ = computing.ContinueWith(t => Broken(t, position), CancellationToken.None, TaskContinuationOptions.OnlyOnFaulted, TaskScheduler.Default);
            }

            wait = computing;
        }

        await Task.WhenAny(wait, Task.Delay(patience));
        lock (gate) return (last, lastAt != position && broken != position);
    }

    private void Broken(Task task, long position)
    {
        served.Fault?.Invoke(FaultAnswer.Told(task.Exception!.InnerException!, "–"));
        lock (gate) broken = position;
    }

    private void Compute(long position)
    {
        var years = served.File.Seasons().Select(Year).ToImmutableArray();
        lock (gate) (last, lastAt) = (years, position);
    }

    private YearShown Year(SeasonEntry entry)
    {
        var season = SeasonReading.Read(served.File.Tables(entry.Name), out _);
        return new YearShown(entry.Name, entry.Year, season is null ? null : SeasonResults.Of(season), season?.Nests.Any(n => n.Source.Token(OldSheetSeason.SetOnAssumed) == "yes") == true);
    }
}
