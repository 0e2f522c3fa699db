using Tussock.Land;
using Tussock.Records;
using Tussock.Workdays;

namespace Tussock.App.Commands;

/// <summary>When the sun rises and sets on the days of a plan of work, by the land's clock.</summary>
internal static class SunWords
{
    /// <summary>The first and the last day of work, and how many days have work in the dark; nothing where no line has a place or the season no time zone.</summary>
    internal static IEnumerable<Phrase> Of(Season season, WorkPlan plan, WorkRules rules)
    {
        if (plan.Works.IsEmpty || SeasonDay.Zone(season.Settings) is not { } zone || season.Transects.FirstOrDefault(t => t.Start is not null)?.Start is not { } place) yield break;
        var days = plan.Works.Select(w => w.On).Distinct().Order().Select(on => (On: on, Sun: Daylight.Of(place, on))).ToArray();
        foreach (var (on, sun) in days.Take(1).Concat(days.Skip(1).TakeLast(1))) yield return sun.HasValue ? Phrase.Of("workdays.sun", ("on", on), ("rises", WorkWords.Clock(Local(sun.Value.Rises))), ("sets", WorkWords.Clock(Local(sun.Value.Sets)))) : sun.Why;
        var dark = days.Count(d => d.Sun.HasValue && (Local(d.Sun.Value.Rises) > rules.Begin || Local(d.Sun.Value.Sets) < rules.End));
        if (dark > 0) yield return Phrase.Of("workdays.dark", ("days", dark));

        TimeOnly Local(DateTimeOffset at) => TimeOnly.FromDateTime(TimeZoneInfo.ConvertTime(at, zone).DateTime);
    }
}
