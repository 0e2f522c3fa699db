namespace Tussock.Records;

/// <summary>Dates so many days away; a date beyond the calendar is its first or last day, so that a mistyped year is told and stops nothing.</summary>
internal static class DateSteps
{
    internal static DateOnly Moved(DateOnly date, double days) => DateOnly.FromDayNumber((int)Math.Clamp(date.DayNumber + days, 0, DateOnly.MaxValue.DayNumber));
}
