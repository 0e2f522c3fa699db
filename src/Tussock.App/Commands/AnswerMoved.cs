using Tussock.Records;
using Tussock.Results;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary>Says what an import did to the answer of a season that was in the data file before.</summary>
internal sealed class AnswerMoved
{
    private readonly Screen screen;
    private readonly DataFile file;
    private readonly string? season;
    private readonly SeasonTables? before;

    private AnswerMoved(Screen screen, DataFile file, string? season, SeasonTables? before) => (this.screen, this.file, this.season, this.before) = (screen, file, season, before);

    /// <summary>Keeps the season as it is now; without a name the only one of the data file.</summary>
    internal static AnswerMoved Watch(Screen screen, DataFile file, string? name, CancellationToken cancel)
    {
        var names = file.Seasons().Select(s => s.Name).ToArray();
        var meant = name is null && names.Length == 1 ? names[0] : name;
        return new AnswerMoved(screen, file, meant, meant is not null && names.Contains(meant) ? file.Tables(meant, cancel) : null);
    }

    /// <summary>Computes both answers and says the difference; nothing when one of the two seasons can't be read.</summary>
    internal void Say(CancellationToken cancel)
    {
        if (before is null || SeasonReading.Read(before, out _) is not { } then || SeasonReading.Read(file.Tables(season!, cancel), out _) is not { } now) return;
        var options = new ResultsOptions { Cancel = cancel };
        var moved = WhatMoved.Of(SeasonResults.Of(then, options), SeasonResults.Of(now, options));
        screen.Out.WriteLine(screen.Words.Say(moved.IsEmpty ? "moved.nothing" : "moved.head"));
        foreach (var sentence in moved) screen.Out.WriteLine("  " + screen.Words.Say(sentence));
    }
}
