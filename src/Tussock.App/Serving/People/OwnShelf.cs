using System.Collections.Immutable;
using Tussock.Desk;
using Tussock.Records;
using Tussock.Results;

namespace Tussock.App.Serving.People;

/// <summary>Keeps the answer of one landowner's properties, computed from their records alone and beside the requests. May be shared between threads.</summary>
/// <remarks>The answer's position is a count of its own: that of the journal would tell how much is written about other land.</remarks>
internal sealed class OwnShelf(ServedSeason served, IReadOnlySet<string> own)
{
    private readonly Lock gate = new();
    private SeasonTables? whole;
    private DeskAnswer? last;
    private Task computing = Task.CompletedTask;
    private long broken = -1;

    /// <summary>What is known now, without records, findings or progress.</summary>
    /// <param name="known">What the desk knows of the whole season.</param>
    /// <param name="patience">How long to wait for an answer that is being computed.</param>
    internal async Task<DeskAnswer> NowAsync(DeskAnswer known, TimeSpan patience)
    {
        Task wait;
        lock (gate)
        {
            if (last is null || last.Today != known.Today || !ReferenceEquals(whole, known.Tables)) last = Read(known);
            whole = known.Tables;
            if (last.IsUpdating && computing.IsCompleted && broken != last.Position)
            {
                computing = Task.Run(Compute);
                _ = computing.ContinueWith(Broken, CancellationToken.None, TaskContinuationOptions.OnlyOnFaulted, TaskScheduler.Default);
            }

            wait = computing;
        }

        if (!wait.IsCompleted) await Task.WhenAny(wait, Task.Delay(patience));
        lock (gate) return last;
    }

    private DeskAnswer Read(DeskAnswer known)
    {
        var tables = OwnTables.Of(known.Tables, own);
        // A change of other land changes nothing here, and nothing here must tell of it.
        if (last is not null && IsSame(last.Tables, tables)) return last with { Today = known.Today };
        var position = (last?.Position ?? 0) + 1;
        return new DeskAnswer
        {
            Position = position, SeasonAt = position, ReadOf = tables, SeasonId = known.SeasonId, Title = OwnTables.Title(tables.Package, own), Tables = tables, Season = SeasonReading.Read(tables, out _), Today = known.Today,
            Results = last?.Results, Numbers = last?.Numbers, ResultsAt = last?.ResultsAt ?? 0,
        };
    }

    /// <summary>Computes until the answer has caught up with the records.</summary>
    private void Compute()
    {
        while (true)
        {
            DeskAnswer from;
            lock (gate)
            {
                if (last is not { IsUpdating: true, Season.Pastures.IsEmpty: false }) return;
                from = last;
            }

            var results = SeasonResults.Of(from.Season!);
            var numbers = ReportNumbers.Of(results, default);
            lock (gate) last = last! with { Results = results, Numbers = numbers, ResultsAt = from.Position };
        }
    }

    /// <summary>What broke on these records would break again; newer ones may be better.</summary>
    private void Broken(Task task)
    {
        served.Fault?.Invoke(FaultAnswer.Told(task.Exception!.InnerException!, "–"));
        lock (gate) broken = last!.Position;
    }

    private static bool IsSame(SeasonTables a, SeasonTables b) =>
        a.Package.Season.SequenceEqual(b.Package.Season) && a.Texts.SequenceEqual(b.Texts) && a.Tables.Length == b.Tables.Length && a.Tables.Zip(b.Tables).All(t => IsSame(t.First, t.Second));

    private static bool IsSame(RecordTable a, RecordTable b) =>
        a.Kind == b.Kind && a.Rows.Length == b.Rows.Length && a.Columns.SequenceEqual(b.Columns) && a.Rows.Zip(b.Rows).All(r => r.First.Cells.SequenceEqual(r.Second.Cells));
}
