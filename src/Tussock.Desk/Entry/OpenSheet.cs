using System.Collections.Immutable;
using System.Globalization;
using Tussock.Fieldwork;
using Tussock.Records;

namespace Tussock.Desk.Entry;

/// <summary>A sheet of the season and how much of it is entered.</summary>
/// <param name="Address">Path and query of its form.</param>
/// <param name="Title">What it is.</param>
/// <param name="Transect">Its transect.</param>
/// <param name="Done">Nests that a visit of this check is written for.</param>
/// <param name="Of">Nests that are to be checked; those lost before are not.</param>
/// <param name="Window">Its dates.</param>
/// <param name="IsDue">Whether its window has begun.</param>
public sealed record OpenSheet(string Address, Phrase Title, Transect Transect, int Done, int Of, CheckWindow Window, bool IsDue)
{
    /// <summary>Whether the sheet is due and something of it is missing.</summary>
    public bool IsOpen => IsDue && Done < Of;

    /// <summary>All check sheets of lines that are set out, by the date of the check.</summary>
    /// <param name="season">The season.</param>
    /// <param name="today">Its local date.</param>
    public static ImmutableArray<OpenSheet> All(Season season, DateOnly today)
    {
        ArgumentNullException.ThrowIfNull(season);
        var days = season.Settings.CheckDays;
        var visits = season.Visits.Where(v => v.Day is > 0).ToLookup(v => v.Nest);
        var all = new List<OpenSheet>();
        foreach (var line in season.Nests.Where(n => n.IsSet).GroupBy(n => n.Transect))
        {
            foreach (var day in days)
            {
                var window = CheckWindow.Of(line.Min(n => n.SetOn!.Value), day, season.Settings.WindowDays);
                var expected = line.Where(n => !visits[n].Any(v => CheckForm.Nearest(v.Day!.Value, days) < day && v.Finding is Finding.Depredated or Finding.OtherLoss)).ToArray();
                var done = expected.Count(n => visits[n].Any(v => CheckForm.Nearest(v.Day!.Value, days) == day));
                all.Add(new OpenSheet(string.Create(CultureInfo.InvariantCulture, $"/enter/{line.Key.Source.Text("id")}?check={day}"), Phrase.Of("enter.check_title", ("transect", line.Key.Name), ("day", day)), line.Key, done, expected.Length, window, window.From <= today));
            }
        }

        return [.. all.OrderBy(s => s.Window.On).ThenBy(s => s.Transect.Name, StringComparer.Ordinal)];
    }
}
