using System.Collections.Immutable;
using Tussock.Desk;
using Tussock.Fieldwork;
using Tussock.Records;
using Tussock.Results;
using Tussock.Review;
using Tussock.Store;

namespace Tussock.App.Serving.Desk;

/// <summary>Keeps the last answer of the season and computes a newer one in the background when the journal has moved. May be shared between threads.</summary>
internal sealed class DeskShelf(ServedSeason served)
{
    private readonly Lock gate = new();
    private DeskAnswer? last;
    private Task computing = Task.CompletedTask;

    /// <summary>What is known now: the records as they stand, and the newest answer that is ready within a moment.</summary>
    internal async Task<DeskAnswer> NowAsync(TimeSpan patience)
    {
        Task wait;
        lock (gate)
        {
            // At midnight other checks are due, though no record has changed.
            if (last is null || last.Position != served.File.Position || last.Today != Today(last.Season)) last = Read(last);
            if (last.IsUpdating && computing.IsCompleted) computing = Task.Run(Compute);
            wait = computing;
        }

        if (!wait.IsCompleted) await Task.WhenAny(wait, Task.Delay(patience));
        lock (gate) return last;
    }

    private DeskAnswer Read(DeskAnswer? before)
    {
        var state = served.File.States(served.Season.Name);
        var season = SeasonReading.Read(state.Tables, out var stops);
        var today = Today(season);
        return new DeskAnswer
        {
            Position = state.Position, SeasonId = state.Id, Title = season?.Settings.Title ?? served.Season.Name, Tables = state.Tables, Records = state.Records, Season = season, Stops = stops, Today = today,
            Findings = season is null ? [] : Inspector.Findings(season, today), Progress = season is null ? null : SeasonProgress.Of(season, today),
            Results = before?.Results, Numbers = before?.Numbers, ResultsAt = before?.ResultsAt ?? 0, Moved = before?.Moved ?? [],
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
                if (last is not { IsUpdating: true, Season: not null }) return;
                from = last;
            }

            var results = SeasonResults.Of(from.Season!);
            var numbers = ReportNumbers.Of(results, default);
            ImmutableArray<Phrase> moved = from.Results is { } earlier ? WhatMoved.Of(earlier, results) : [];
            lock (gate) last = last! with { Results = results, Numbers = numbers, ResultsAt = from.Position, Moved = moved };
        }
    }

    private DateOnly Today(Season? season)
    {
        var now = served.Clock.GetUtcNow();
        return season?.Settings.TimeZone is { Length: > 0 } name && TimeZoneInfo.TryFindSystemTimeZoneById(name, out var zone) ? DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(now, zone).DateTime) : DateOnly.FromDateTime(now.LocalDateTime);
    }
}
