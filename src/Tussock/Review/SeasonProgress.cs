using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>How far a pasture has come.</summary>
/// <param name="Pasture">The pasture.</param>
/// <param name="Planned">Stations that are planned and not set.</param>
/// <param name="Set">Nests that were set.</param>
/// <param name="First">Of those set, how many need no first check any more: looked at in its days, or lost or ended before.</param>
/// <param name="Last">The same for the last check.</param>
public sealed record PastureProgress(Pasture Pasture, int Planned, int Set, int First, int Last);

/// <summary>A check that is due on one line.</summary>
/// <param name="Transect">The line.</param>
/// <param name="Day">Day of the check since set-out.</param>
/// <param name="On">Its date.</param>
/// <param name="From">First date that counts.</param>
/// <param name="Until">Last date that counts.</param>
/// <param name="Open">Nests that still need it.</param>
public sealed record DueCheck(Transect Transect, double Day, DateOnly On, DateOnly From, DateOnly Until, int Open);

/// <summary>Where a season stands: what is set and checked, and what comes next.</summary>
/// <param name="Pastures">One entry a pasture, in the order of the season.</param>
/// <param name="Due">Checks that can be made within the days asked for and are still open, the first to end first.</param>
public sealed record SeasonProgress(ImmutableArray<PastureProgress> Pastures, ImmutableArray<DueCheck> Due)
{
    /// <summary>Looks at a season on a day.</summary>
    /// <param name="season">The season.</param>
    /// <param name="today">Today's local date.</param>
    /// <param name="days">How many days ahead checks are listed.</param>
    /// <remarks>Cost: one pass over nests and visits. May be called from several threads.</remarks>
    public static SeasonProgress Of(Season season, DateOnly today, int days = 7)
    {
        var (first, last, window) = season.Settings.TrialNumbers;
        var histories = NestHistory.All(season, new Trial(first, last, window));
        var due = new Dictionary<(Transect Line, double Day, DateOnly Set), int>();
        var pastures = season.Pastures.ToDictionary(p => p, _ => new int[4]);
        foreach (var history in histories)
        {
            var counts = pastures[history.Nest.Transect.Pasture];
            if (history.Nest is not { IsSet: true, SetOn: { } set })
            {
                if (history.Nest.Status == StationStatus.Set) counts[0]++;
                continue;
            }

            counts[1]++;
            foreach (var (day, at) in new[] { (first, 2), (last, 3) })
            {
                if (!IsOpen(history, day, window)) counts[at]++;
                else due[(history.Nest.Transect, day, set)] = due.GetValueOrDefault((history.Nest.Transect, day, set)) + 1;
            }
        }

        return new SeasonProgress(
            [.. season.Pastures.Select(p => pastures[p]).Zip(season.Pastures, (c, p) => new PastureProgress(p, c[0], c[1], c[2], c[3]))],
            [.. due.Select(d => Check(d.Key, d.Value, window)).Where(d => d.From <= DateSteps.Moved(today, days) && d.Until >= today).OrderBy(d => d.Until).ThenBy(d => d.Transect.Name, StringComparer.Ordinal)]);
    }

    private static bool IsOpen(NestHistory history, double day, double window) => history.Over > day + window && !history.HasVisitIn(day - window, day + window);

    private static DueCheck Check((Transect Line, double Day, DateOnly Set) check, int open, double window)
    {
        var days = Deadline.Of(check.Set, check.Day, window, today: null);
        return new DueCheck(check.Line, check.Day, DateSteps.Moved(check.Set, Math.Round(check.Day)), days.From, days.Until, open);
    }
}
