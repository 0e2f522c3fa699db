using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Exchange.Workbook;

/// <summary>A row that a workbook offers: what is known already, and what it waits for.</summary>
/// <param name="Cells">Column and text.</param>
/// <param name="Hint">Why it is there: the check, or that a segment is to be counted.</param>
/// <param name="DueOn">Date on which it is due, when one is known.</param>
internal sealed record RowToFill(ImmutableArray<(string Column, string Text)> Cells, Phrase Hint, DateOnly? DueOn);

/// <summary>The rows that a season waits for: checks that nobody has written down, segments that nobody has counted.</summary>
internal static class RowsToFill
{
    /// <summary>Columns that such a row has filled beforehand. A row with nothing beyond them is not filled in.</summary>
    internal static ImmutableArray<string> Given(RecordKind kind) =>
        kind == RecordKind.Visits ? ["transect", "nest"] : kind == RecordKind.Belts ? ["transect", "segment", "cover"] : [];

    /// <summary>The rows of a kind, in the order of the walk: check by check, line by line.</summary>
    internal static IEnumerable<RowToFill> Of(Season season, RecordKind kind) => kind == RecordKind.Visits ? Checks(season) : kind == RecordKind.Belts ? Segments(season) : [];

    private static IEnumerable<RowToFill> Checks(Season season)
    {
        var visits = season.Visits.ToLookup(v => v.Nest);
        foreach (var day in season.Settings.CheckDays)
        {
            foreach (var nest in season.Nests.Where(n => n.Status == StationStatus.Set))
            {
                if (visits[nest].Any(v => v.Finding is Finding.Depredated or Finding.OtherLoss || (v.Day is { } on && Math.Abs(on - day) <= season.Settings.WindowDays))) continue;
                yield return new RowToFill([("transect", nest.Transect.Name), ("nest", Words.Numbers.Whole(nest.Number))], Phrase.Of("workbook.check_day", ("day", day)), nest.SetOn?.AddDays(day));
            }
        }
    }

    private static IEnumerable<RowToFill> Segments(Season season)
    {
        var counted = season.Segments.Select(s => s.Transect).ToHashSet();
        var classes = season.Settings.CoverClasses.Select(c => c.Name).Where(c => season.Settings.ClassesThatCount.IsEmpty || season.Settings.ClassesThatCount.Contains(c)).ToArray();
        foreach (var line in season.Nests.GroupBy(n => n.Transect).Where(l => !counted.Contains(l.Key)))
        {
            for (var segment = 1; segment <= line.Max(n => n.Number); segment++)
            {
                foreach (var cover in classes) yield return new RowToFill([("transect", line.Key.Name), ("segment", Words.Numbers.Whole(segment)), ("cover", cover)], Phrase.Of("workbook.to_count"), null);
            }
        }
    }
}
