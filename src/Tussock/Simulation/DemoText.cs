using System.Globalization;
using Tussock.Words;

namespace Tussock.Simulation;

/// <summary>Cells of an invented season as text.</summary>
internal static class DemoText
{
    internal const double MinutesADay = 24 * 60;

    internal static string Of(int n) => Numbers.Whole(n);

    internal static string Of(double x, int decimals) => Numbers.Fixed(x, decimals);

    internal static string Of(DateOnly date) => date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>Local time of day of a count of minutes after midnight.</summary>
    internal static string Clock(double minutes) => TimeOnly.MinValue.AddMinutes(Math.Floor(minutes)).ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>Local date and time of a count of minutes after a date's midnight.</summary>
    internal static string Moment(DateOnly date, double minutes) => date.ToDateTime(TimeOnly.MinValue).AddMinutes(Math.Floor(minutes)).ToString("yyyy-MM-dd'T'HH:mm", CultureInfo.InvariantCulture);
}
