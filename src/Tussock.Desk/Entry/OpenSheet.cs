using System.Collections.Immutable;
using Tussock.Fieldwork;
using Tussock.Records;

namespace Tussock.Desk.Entry;

/// <summary>A sheet of the season and how much of it is entered.</summary>
/// <param name="Address">Path and query of its form.</param>
/// <param name="Title">What it is.</param>
/// <param name="Transect">Its transect.</param>
/// <param name="Done">Rows that are entered: visits of this check, stations that were worked at, nests whose remains were read, segments.</param>
/// <param name="Of">Rows that are to be entered; of a check, nests that were lost before are not.</param>
/// <param name="Window">Its dates; null where it has none.</param>
/// <param name="IsDue">Whether it is time to enter it.</param>
public sealed record OpenSheet(string Address, Phrase Title, Transect Transect, int Done, int Of, CheckWindow? Window, bool IsDue)
{
    /// <summary>Which kinds of sheets belong together, in the order of the season's work: 0 set-out, 1 checks, 2 remains, 3 belts.</summary>
    public int Kind { get; init; }

    /// <summary>Whether the sheet is due and something of it is missing.</summary>
    public bool IsOpen => IsDue && Done < Of;

    /// <summary>All sheets: set-outs, checks of lines that are set out by the date of the check, remains of lines on which a nest was lost, belts.</summary>
    /// <param name="season">The season.</param>
    /// <param name="today">Its local date.</param>
    public static ImmutableArray<OpenSheet> All(Season season, DateOnly today)
    {
        ArgumentNullException.ThrowIfNull(season);
        return [.. SetOuts(season).Concat(Checks(season, today)).Concat(Remains(season, today)).Concat(Belts(season))
            .OrderBy(s => s.Kind).ThenBy(s => s.Window?.On).ThenBy(s => s.Transect.Name, StringComparer.Ordinal).ThenBy(s => s.Address, StringComparer.Ordinal)];
    }

    private static IEnumerable<OpenSheet> SetOuts(Season season)
    {
        var stations = season.Nests.ToLookup(n => n.Transect);
        foreach (var line in season.Transects)
        {
            var done = stations[line].Count(n => n.IsSet || n.Status is StationStatus.NoClump or StationStatus.Extra);
            yield return new OpenSheet(SetOutForm.Address(line), SetOutForm.Title(line), line, done, stations[line].Any() ? stations[line].Count() : BeltForm.Blank, null, IsDue: true);
        }
    }

    private static IEnumerable<OpenSheet> Checks(Season season, DateOnly today)
    {
        var days = season.Settings.CheckDays;
        var visits = season.Visits.Where(v => v.Day is > 0).ToLookup(v => v.Nest);
        foreach (var line in season.Nests.Where(n => n.IsSet).GroupBy(n => n.Transect))
        {
            foreach (var day in days)
            {
                var window = CheckWindow.Of(line.Min(n => n.SetOn!.Value), day, season.Settings.WindowDays);
                var expected = line.Where(n => !visits[n].Any(v => CheckForm.Nearest(v.Day!.Value, days) < day && v.Finding is Finding.Depredated or Finding.OtherLoss)).ToArray();
                var done = expected.Count(n => visits[n].Any(v => CheckForm.Nearest(v.Day!.Value, days) == day));
                yield return new OpenSheet(CheckForm.Address(line.Key, day), CheckForm.Title(line.Key, day), line.Key, done, expected.Length, window, window.From <= today) { Kind = 1 };
            }
        }
    }

    /// <summary>A nest found eaten waits for its remains. Of another loss its cause is known: it has a block, and nobody waits for it. A season of which none was ever read does without them once its last check is over.</summary>
    private static IEnumerable<OpenSheet> Remains(Season season, DateOnly today)
    {
        var lastDay = season.Settings.CheckDays.DefaultIfEmpty(season.Settings.TrialDays).Max();
        var isGoingOn = season.Nests.Any(n => n.SetOn is { } on && CheckWindow.Of(on, lastDay, season.Settings.WindowDays).To >= today);
        var read = season.Remains.Select(r => r.Nest).ToHashSet();
        foreach (var line in season.Visits.Where(v => v.Finding is Finding.Depredated or Finding.OtherLoss).Select(v => (v.Nest, IsAwaited: v.Finding == Finding.Depredated)).Concat(read.Select(n => (Nest: n, IsAwaited: false))).GroupBy(n => n.Nest.Transect))
        {
            var nests = line.Where(n => n.IsAwaited || read.Contains(n.Nest)).Select(n => n.Nest).Distinct().ToArray();
            yield return new OpenSheet(RemainsForm.Address(line.Key), RemainsForm.Title(line.Key), line.Key, nests.Count(read.Contains), nests.Length, null, isGoingOn || read.Count > 0) { Kind = 2 };
        }
    }

    /// <summary>A season may do without belts: they are due once one of its lines has one. A second count is never due.</summary>
    private static IEnumerable<OpenSheet> Belts(Season season)
    {
        var counted = season.Segments.ToLookup(s => s.Transect);
        var stations = season.Nests.ToLookup(n => n.Transect);
        foreach (var line in season.Transects)
        {
            for (var pass = 1; pass <= 2; pass++)
            {
                var done = counted[line].Where(s => s.Pass == pass).Select(s => s.Number).Distinct().Count();
                yield return new OpenSheet(BeltForm.Address(line, pass), BeltForm.Title(line, pass), line, done, BeltForm.Segments(stations[line], counted[line]), null, pass == 1 && stations[line].Any(n => n.IsSet) && !season.Segments.IsEmpty) { Kind = 3 };
            }
        }
    }
}
