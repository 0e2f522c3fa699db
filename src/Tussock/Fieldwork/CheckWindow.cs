using Tussock.Records;

namespace Tussock.Fieldwork;

/// <summary>The dates of one check of nests set out together; ends belong to the window.</summary>
/// <param name="Day">Check day since set-out.</param>
/// <param name="On">Its date.</param>
/// <param name="From">First date on which it counts.</param>
/// <param name="To">Last date on which it counts.</param>
/// <remarks>Equal when all are. May be shared between threads.</remarks>
public readonly record struct CheckWindow(int Day, DateOnly On, DateOnly From, DateOnly To)
{
    /// <summary>The window of a check day.</summary>
    /// <param name="setOn">Date of set-out.</param>
    /// <param name="day">Check day.</param>
    /// <param name="windowDays">Days before and after that count, 0 or more.</param>
    public static CheckWindow Of(DateOnly setOn, int day, int windowDays) => new(day, DateSteps.Moved(setOn, day), DateSteps.Moved(setOn, day - windowDays), DateSteps.Moved(setOn, day + windowDays));

    /// <summary>Whether a date lies in the window.</summary>
    public bool Holds(DateOnly date) => date >= From && date <= To;
}
