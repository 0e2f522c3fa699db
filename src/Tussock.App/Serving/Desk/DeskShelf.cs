using System.Diagnostics;
using Tussock.App.Commands;
using Tussock.Desk;
using Tussock.Fieldwork;
using Tussock.Records;
using Tussock.Results;
using Tussock.Review;
using Tussock.Store;

namespace Tussock.App.Serving.Desk;

/// <summary>Keeps the last answer of the season and computes a newer one in the background when the journal has moved. May be shared between threads.</summary>
/// <remarks>
/// New changes are put into the kept tables at once, which takes milliseconds; the season is read, looked through and computed behind the readers' backs.
/// Nobody waits longer than a page may take, whatever the size of the season: where the newest is not ready, the last answer is shown and says so.
/// </remarks>
internal sealed class DeskShelf
{
    /// <summary>What a page waits at most for new changes to be put into the tables.</summary>
    private static readonly TimeSpan TablesPatience = TimeSpan.FromMilliseconds(100);

    /// <summary>A season of few rows is worth waiting for the first time.</summary>
    private const int FewRows = 5000;
    private static readonly TimeSpan FirstPatience = TimeSpan.FromSeconds(1);

    /// <summary>How often in a row a computation may be given up for newer changes; a steady stream of them must not keep every answer away.</summary>
    private const int MostGivenUp = 2;

    private readonly ServedSeason served;
    private readonly Lock gate = new();

    private KeptSeason? kept;
    private DeskAnswer? last;
    private Task reading = Task.CompletedTask;
    private Task computing = Task.CompletedTask;
    private Action? giveUp;
    private long attempted = -1;
    private Stopwatch running = new();
    private TimeSpan? usual;
    private int givenUp;
    private bool isStopped;

    /// <summary>Position at which the season's own records moved last; what the file has behind it is other seasons'.</summary>
    private long movedAt;

    internal DeskShelf(ServedSeason served) => this.served = served;

    /// <summary>What is known now: the records as they stand, and the newest answer that is ready within a moment.</summary>
    /// <param name="patience">How long somebody waits for results, where they are usually ready within that.</param>
    internal async Task<DeskAnswer> NowAsync(TimeSpan patience)
    {
        var clock = Stopwatch.StartNew();
        while (true)
        {
            var at = served.File.Last;
            Task wait;
            lock (gate)
            {
                if (kept is not null && kept.At == at) break;
                if (reading.IsCompleted) reading = Task.Run(Read);
                wait = reading;
            }

            // Before there is anything to show everybody waits, and is told what goes wrong.
            if (last is null) await wait;
            else if (!await IsDoneAsync(wait, TablesPatience - clock.Elapsed)) break;
        }

        Task answer;
        lock (gate)
        {
            if (!IsUpToDate(last!) && computing.IsCompleted) Start();
            answer = computing;
            if (usual is null && patience > TimeSpan.Zero && Rows < FewRows) patience = FirstPatience;
            else if (usual is null || usual > patience) patience = TimeSpan.Zero;
        }

        if (!answer.IsCompleted && patience > TimeSpan.Zero) await Task.WhenAny(answer, Task.Delay(patience));
        lock (gate) return IsFaulty && last!.IsUpdating ? last with { IsBroken = true } : last!;
    }

    /// <summary>Rows of records that are kept; none before the season was asked for.</summary>
    internal int Rows => last?.Tables.Tables.Sum(t => t.Rows.Length) ?? 0;

    /// <summary>The results, where they are those of the records as they stand; null otherwise.</summary>
    internal SeasonResults? ResultsAt(long position)
    {
        lock (gate) return last is { Results: { } results, IsUpdating: false } && last.ReadyAt == position ? results : null;
    }

    /// <summary>Gives up what is being computed: nobody will ask for it here.</summary>
    internal void Stop()
    {
        lock (gate)
        {
            isStopped = true;
            giveUp?.Invoke();
        }
    }

    private static async Task<bool> IsDoneAsync(Task task, TimeSpan patience)
    {
        if (!task.IsCompleted && (patience <= TimeSpan.Zero || await Task.WhenAny(task, Task.Delay(patience)) != task)) return false;
        await task;
        return true;
    }

    /// <summary>At midnight other checks are due, though no record has changed.</summary>
    private bool IsUpToDate(DeskAnswer answer) => !answer.IsUpdating && answer.Today == Today(answer.Season);

    /// <summary>Puts new changes into the tables; the first time reads all of the season.</summary>
    private void Read()
    {
        var newer = kept is null ? served.File.Keep(served.Season.Name) : served.File.Newer(kept, served.Season.Name);
        var first = last is null ? Looked(Empty(newer), newer.Kept.Tables, newer.At.Position) : null;
        lock (gate)
        {
            if (first is null && newer.At == kept!.At) return;
            var isMoved = first is not null || !ReferenceEquals(newer.Kept, kept!.Kept);
            kept = newer;
            if (!isMoved)
            {
                // Only other seasons have moved: what stood before them stands now.
                last = last! with { Position = newer.At.Position, SeasonAt = Standing(last.SeasonAt), ResultsAt = Standing(last.ResultsAt) };
                return;
            }

            movedAt = newer.At.Position;
            last = (last ?? first!) with { Position = newer.At.Position, Tables = newer.Kept.Tables, Disputed = newer.Disputed };
            if (computing.IsCompleted) Start();
            else if (givenUp < MostGivenUp && usual is { } took && running.Elapsed < took / 2)
            {
                givenUp++;
                giveUp?.Invoke();
            }
        }
    }

    /// <summary>Position that something computed at another one stands at; the gate is held.</summary>
    private long Standing(long at) => at > 0 && at >= movedAt ? kept!.At.Position : at;

    private DeskAnswer Empty(KeptSeason of) => new() { Position = of.At.Position, SeasonId = of.Id, Title = served.Season.Name, Tables = of.Kept.Tables, ReadOf = of.Kept.Tables, SeasonAt = 0, Today = Today(null) };

    /// <summary>Whether the computation broke on the records as they stand; the gate is held.</summary>
    private bool IsFaulty => computing.IsFaulted && attempted == last!.Position;

    /// <summary>Starts the one background worker; the gate is held.</summary>
    private void Start()
    {
        // What broke on these records would break again; newer ones may be better.
        if (IsFaulty) return;
        computing = Aside.Start(Compute, Rows);
        _ = computing.ContinueWith(t => served.Fault?.Invoke(FaultAnswer.Told(t.Exception!.InnerException!, "–")), CancellationToken.None, TaskContinuationOptions.OnlyOnFaulted, TaskScheduler.Default);
    }

    /// <summary>Computes until the answer has caught up with the records.</summary>
    private void Compute()
    {
        while (true)
        {
            using var stop = new CancellationTokenSource();
            DeskAnswer from;
            lock (gate)
            {
                from = last!;
                if (isStopped || IsUpToDate(from)) return;
                giveUp = stop.Cancel;
                attempted = from.Position;
                running = Stopwatch.StartNew();
            }

            try
            {
                Season(from, stop.Token);
                lock (gate)
                {
                    usual = running.Elapsed;
                    givenUp = 0;
                }
            }
            catch (OperationCanceledException)
            {
                // Something newer has come: from the start.
            }
            finally
            {
                lock (gate) giveUp = null;
            }
        }
    }

    private void Season(DeskAnswer from, CancellationToken cancel)
    {
        if (from.SeasonAt < from.Position || from.Today != Today(from.Season))
        {
            var looked = Looked(from, from.Tables, from.Position);
            lock (gate) last = looked with { Position = last!.Position, Tables = last.Tables, Disputed = last.Disputed, SeasonAt = Standing(looked.SeasonAt), ResultsAt = Standing(looked.ResultsAt) };
            from = looked;
        }

        cancel.ThrowIfCancellationRequested();
        if (from.Season is not { } season || from.ResultsAt == from.Position) return;
        var results = SeasonResults.Of(season, new ResultsOptions { Cancel = cancel }, from.Results);
        var numbers = ReportNumbers.Of(results, from.Numbers, cancel);
        var moved = from.Results is { } earlier ? WhatMoved.Of(earlier, results) : [];
        lock (gate) last = last! with { Results = results, Numbers = numbers, ResultsAt = Standing(from.Position), Moved = moved };
    }

    /// <summary>The answer with its season read anew and looked through.</summary>
    private DeskAnswer Looked(DeskAnswer answer, SeasonTables tables, long position)
    {
        var season = SeasonReading.Read(tables, out var stops);
        var today = Today(season);
        return answer with
        {
            SeasonAt = position, ReadOf = tables, Season = season, Stops = stops, Today = today, IsTodayOfComputer = SeasonDay.Zone(season?.Settings) is null, Title = season?.Settings.Title ?? served.Season.Name,
            Findings = season is null ? [] : Inspector.Findings(season, today), Progress = season is null ? null : SeasonProgress.Of(season, today),
        };
    }

    private DateOnly Today(Season? season) => SeasonDay.Of(season?.Settings, served.Clock);
}
