using System.Collections.Immutable;
using System.Globalization;

namespace Tussock.Workdays;

/// <summary>Days on which nobody may go in, as they are typed: dates, or a first and a last one with two dots between.</summary>
public static class ClosedDays
{
    private const int MostInARow = 366;

    /// <summary>A date as year, month, day; null when it is none.</summary>
    public static DateOnly? Date(string text) => DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date) ? date : null;

    /// <summary>One date, or all from one to another; null when it is neither, or more than a year.</summary>
    public static IEnumerable<DateOnly>? Of(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.Split("..") switch
        {
            [var one] when Date(one) is { } day => [day],
            [var one, var other] when Date(one) is { } first && Date(other) is { } last && last >= first && last.DayNumber - first.DayNumber <= MostInARow => Enumerable.Range(0, last.DayNumber - first.DayNumber + 1).Select(first.AddDays),
            _ => null,
        };
    }

    /// <summary>Several, with commas or spaces between; null when one of them can't be read.</summary>
    public static ImmutableHashSet<DateOnly>? All(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var days = text.Split([',', ' '], StringSplitOptions.RemoveEmptyEntries).Select(Of).ToArray();
        return Array.TrueForAll(days, d => d is not null) ? [.. days.SelectMany(d => d!)] : null;
    }
}
