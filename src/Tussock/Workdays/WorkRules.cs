using System.Collections.Immutable;

namespace Tussock.Workdays;

/// <summary>When and how fast crews work.</summary>
/// <param name="From">First day.</param>
/// <remarks>Equal when all fields are equal, lists by reference. The minutes are common practice, no source: measure your own on the practice line.</remarks>
public sealed record WorkRules(DateOnly From)
{
    /// <summary>Crews, 1 to 20.</summary>
    public int Crews { get; init; } = 1;

    /// <summary>Crews, counted from the last, that have a new worker.</summary>
    public int NewCrews { get; init; }

    /// <summary>When work may begin: daylight, the gate's hours.</summary>
    public TimeOnly Begin { get; init; } = new(6, 30);

    /// <summary>When work has to end: the heat, the gate's hours.</summary>
    public TimeOnly End { get; init; } = new(11, 30);

    /// <summary>Days on which nobody may go in: rain, closed gates, hunting days.</summary>
    public ImmutableHashSet<DateOnly> Closed { get; init; } = [];

    /// <summary>Minutes to set out a station: clump, nest, flag, notes.</summary>
    public double SetOutMinutes { get; init; } = 10;

    /// <summary>Minutes to check a nest.</summary>
    public double CheckMinutes { get; init; } = 5;

    /// <summary>Metres walked in a minute; 50 is 3 km/h, in brush.</summary>
    public double MetresAMinute { get; init; } = 50;

    /// <summary>Minutes to get to a line from the gate, and from the line before where ways between lines are not reckoned.</summary>
    public double MovingMinutes { get; init; } = 20;

    /// <summary>Metres a minute from one line to the next of the same day, straight over the land; null: every line takes <see cref="MovingMinutes"/> to get to.</summary>
    /// <remarks>Roads and gates make ways longer: give less than the vehicle does. Lines without a place take <see cref="MovingMinutes"/>.</remarks>
    public double? BetweenMetresAMinute { get; init; }

    /// <summary>Minutes of a whole working day.</summary>
    public double DayMinutes => (End - Begin).TotalMinutes;

    /// <summary>Share of a whole day that a crew may do on the n-th day of work, 0 being the first.</summary>
    /// <param name="crew">Crew, 0 … <see cref="Crews"/> − 1.</param>
    /// <param name="day">Days of work before this one.</param>
    /// <returns>A fifth more each day for a crew with a new worker, else 1.</returns>
    /// <source>NIOSH, acclimatisation of new workers to heat: at most 20 % of the usual exposure on the first day and 20 % more on each further one (poster D001316).</source>
    public double Load(int crew, int day) => crew >= Crews - NewCrews ? Math.Min(1, 0.2 * (day + 1)) : 1;
}
