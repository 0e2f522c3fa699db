using System.Collections.Immutable;
using Tussock.Desk;
using Tussock.Exchange.OldSheets;
using Tussock.Records;
using Tussock.Results;
using Tussock.Store;

namespace Tussock.App.Serving.Desk;

/// <summary>The answers of all seasons of the data file, computed in the background and kept until the file has moved. May be shared between threads.</summary>
internal sealed class DeskYears(DataFile file)
{
    private readonly Lock gate = new();
    private ImmutableArray<YearShown> last = [];
    private long lastAt = -1;
    private Task computing = Task.CompletedTask;

    /// <summary>What is known within a moment, and whether more is on its way.</summary>
    internal async Task<(ImmutableArray<YearShown> Years, bool IsUpdating)> NowAsync(TimeSpan patience)
    {
        Task wait;
        lock (gate)
        {
            if (lastAt == file.Position) return (last, false);
            if (computing.IsCompleted) computing = Task.Run(Compute);
            wait = computing;
        }

        await Task.WhenAny(wait, Task.Delay(patience));
        lock (gate) return (last, lastAt != file.Position);
    }

    private void Compute()
    {
        var position = file.Position;
        var years = file.Seasons().Select(Year).ToImmutableArray();
        lock (gate) (last, lastAt) = (years, position);
    }

    private YearShown Year(SeasonEntry entry)
    {
        var season = SeasonReading.Read(file.Tables(entry.Name), out _);
        return new YearShown(entry.Name, entry.Year, season is null ? null : SeasonResults.Of(season), season?.Nests.Any(n => n.Source.Token(OldSheetSeason.SetOnAssumed) == "yes") == true);
    }
}
