using System.Collections.Immutable;
using Tussock.Fieldwork;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Workdays;

/// <summary>A line's work on one day.</summary>
/// <param name="Line">The line.</param>
/// <param name="CheckDay">Day of the trial that is checked; 0 for setting out.</param>
/// <param name="On">Date.</param>
/// <param name="Crew">Crew, 1 … n.</param>
/// <param name="From">When it begins, the way there included.</param>
/// <param name="To">When it ends.</param>
/// <param name="WalkM">Metres walked along the line, there and back.</param>
/// <param name="OffDays">Days after its own day of the trial; below 0 before it; 0 for setting out.</param>
public sealed record LineWork(Transect Line, int CheckDay, DateOnly On, int Crew, TimeOnly From, TimeOnly To, double WalkM, int OffDays);

/// <summary>Work that finds no day.</summary>
/// <param name="Line">The line.</param>
/// <param name="CheckDay">Day of the trial; 0 for setting out.</param>
/// <param name="Why">Why, with the days that would have counted.</param>
public sealed record WorkMissed(Transect Line, int CheckDay, Phrase Why);

/// <summary>Who does what on which day: lines are set out one after another, and checked on their days or as near as their windows allow.</summary>
/// <param name="Works">Works by date, crew and time.</param>
/// <param name="Missed">What finds no day.</param>
public sealed record WorkPlan(ImmutableArray<LineWork> Works, ImmutableArray<WorkMissed> Missed)
{
    private const int MostDays = 200;
    private const double UsualStepM = 0.75;
    private const double UsualSteps = 50;

    /// <summary>Plans a season that is planned or under way.</summary>
    /// <param name="season">The season. Lines with a date of set-out are only checked; a check with a visit in its window is done.</param>
    /// <param name="rules">When and how fast crews work.</param>
    /// <returns>The plan. Of several checks the one whose window closes first comes first; checks come before setting out.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A number of the rules is outside its range.</exception>
    /// <remarks>
    /// A check is aimed at the open day nearest to its own; when crews are full it moves on, up to the end of its window. The plan is made day by day and never goes back:
    /// it may miss what a longer look ahead would keep. The way from line to line is one number, or the straight distance between their starts.
    /// </remarks>
    public static WorkPlan Of(Season season, WorkRules rules)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(rules is { Crews: >= 1 and <= 20, NewCrews: >= 0, SetOutMinutes: > 0, CheckMinutes: > 0, MetresAMinute: > 0, MovingMinutes: >= 0, BetweenMetresAMinute: null or > 0 } && rules.NewCrews <= rules.Crews && rules.Begin < rules.End, true, nameof(rules));
        return new Planning(season, rules).Plan();
    }

    /// <summary>A check that is due.</summary>
    private sealed record Due(Transect Line, CheckWindow Window, DateOnly? Aim);

    /// <summary>One plan in the making.</summary>
    private sealed class Planning(Season season, WorkRules rules)
    {
        private readonly ILookup<Transect, Nest> stations = season.Nests.ToLookup(n => n.Transect);
        private readonly ILookup<Transect, Visit> visits = season.Visits.ToLookup(v => v.Nest.Transect);
        private readonly List<LineWork> works = [];
        private readonly List<WorkMissed> missed = [];
        private readonly List<Due> due = [];
        private readonly Transect?[] at = new Transect?[rules.Crews];
        private int days;

        internal WorkPlan Plan()
        {
            var toSet = new Queue<Transect>();
            foreach (var line in season.Transects.Where(l => stations[l].Any()))
            {
                if (line.SetOn is { } set) Expect(line, set);
                else if (Minutes(line, 0, null) <= rules.DayMinutes) toSet.Enqueue(line);
                else missed.Add(new WorkMissed(line, 0, Phrase.Of("workdays.too_long", ("minutes", Math.Ceiling(Minutes(line, 0, null))), ("day", Math.Floor(rules.DayMinutes)))));
            }

            for (var day = 0; day < MostDays && (toSet.Count > 0 || due.Count > 0); day++) Day(rules.From.AddDays(day), toSet);
            missed.AddRange(toSet.Select(l => new WorkMissed(l, 0, Phrase.Of("workdays.no_day", ("days", MostDays)))));
            return new WorkPlan([.. works], [.. missed.OrderBy(m => m.Line.Name, StringComparer.Ordinal).ThenBy(m => m.CheckDay)]);
        }

        private void Day(DateOnly on, Queue<Transect> toSet)
        {
            GiveUp(on);
            if (rules.Closed.Contains(on)) return;
            var used = new double[rules.Crews];
            Array.Clear(at);
            foreach (var check in due.Where(d => d.Aim <= on).OrderBy(d => d.Window.To).ThenBy(d => d.Line.Name, StringComparer.Ordinal).ToArray())
                if (Give(check.Line, check.Window.Day, on, used, on.DayNumber - check.Window.On.DayNumber)) due.Remove(check);
            while (toSet.TryPeek(out var line) && Give(line, 0, on, used, 0))
            {
                toSet.Dequeue();
                Expect(line, on);
            }

            // Who has no line on a day of work goes along or practises for the share that is allowed, and gets used to the heat as well.
            if (used.Any(u => u > 0)) days++;
        }

        private void GiveUp(DateOnly on)
        {
            foreach (var check in due.Where(d => d.Window.To < on).ToArray())
            {
                due.Remove(check);
                missed.Add(new WorkMissed(check.Line, check.Window.Day, Phrase.Of(check.Aim is null ? "workdays.closed" : "workdays.crowded", ("from", check.Window.From), ("to", check.Window.To))));
            }
        }

        private void Expect(Transect line, DateOnly set)
        {
            foreach (var window in season.Settings.CheckDays.Select(d => CheckWindow.Of(set, d, season.Settings.WindowDays)))
            {
                if (visits[line].Any(v => v.VisitedOn is { } on && window.Holds(on))) continue;
                var open = Enumerable.Range(0, window.To.DayNumber - window.From.DayNumber + 1).Select(window.From.AddDays).Where(d => d >= rules.From && !rules.Closed.Contains(d)).ToArray();
                due.Add(new Due(line, window, open.Length == 0 ? null : open.MinBy(d => Math.Abs(d.DayNumber - window.On.DayNumber))));
            }
        }

        /// <summary>Gives work to the crew that has most of its day left; false when it fits into no one's.</summary>
        private bool Give(Transect line, int checkDay, DateOnly on, double[] used, int offDays)
        {
            var crew = Enumerable.Range(0, rules.Crews).MaxBy(c => (rules.DayMinutes * rules.Load(c, days)) - used[c]);
            var minutes = Minutes(line, checkDay, at[crew]);
            if (used[crew] + minutes > rules.DayMinutes * rules.Load(crew, days)) return false;
            works.Add(new LineWork(line, checkDay, on, crew + 1, rules.Begin.AddMinutes(Math.Ceiling(used[crew])), rules.Begin.AddMinutes(Math.Ceiling(used[crew] + minutes)), WalkM(line), offDays));
            used[crew] += minutes;
            at[crew] = line;
            return true;
        }

        private double Minutes(Transect line, int checkDay, Transect? before) =>
            Moving(line, before) + (WalkM(line) / rules.MetresAMinute) + (stations[line].Count() * (checkDay == 0 ? rules.SetOutMinutes : rules.CheckMinutes));

        /// <summary>From the gate, or from the start of the line before: the way along it led back there.</summary>
        private double Moving(Transect line, Transect? before) =>
            rules.BetweenMetresAMinute is { } speed && line.Start is { } here && before?.Start is { } there ? Offset.Between(there, here).DistanceM / speed : rules.MovingMinutes;

        /// <summary>Along the line and back.</summary>
        private double WalkM(Transect line) => 2 * stations[line].Count() * (line.StepM ?? UsualStepM) * (line.StepsBetween ?? UsualSteps);
    }
}
