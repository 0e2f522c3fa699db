using System.Globalization;

namespace Tussock.Exchange.Spreadsheet;

/// <summary>Dates and times as workbooks keep them: days since the end of 1899 (ECMA-376 part 1, 18.17.4), and as season folders write them.</summary>
internal static class SheetMoment
{
    /// <summary>Days that lie between the counts from 1900 and from 1904.</summary>
    private const double From1904 = 1462;

    // Before March 1900 the count is a day off: it has a 29 February 1900 that was none.
    private const double FirstSure = 61, Last = 2_958_466;
    private static readonly DateTime Start = new(1899, 12, 30, 0, 0, 0, DateTimeKind.Unspecified);

    /// <summary>The text of a day count that is shown with a format; null when the count is no date or the format shows none.</summary>
    internal static string? Text(double count, (bool Date, bool Time) format, bool from1904)
    {
        if (!format.Date && !format.Time) return null;
        var days = count + (from1904 && format.Date ? From1904 : 0);
        if (!double.IsFinite(days) || days < 0 || days >= Last) return null;
        var seconds = Math.Round(days * 86_400);
        var clock = TimeSpan.FromSeconds(seconds % 86_400);
        var time = clock.ToString(clock.Seconds == 0 ? @"hh\:mm" : @"hh\:mm\:ss", CultureInfo.InvariantCulture);
        if (!format.Date || days < 1) return format.Time ? time : null;
        if (days < FirstSure) return null;
        var date = Start.AddSeconds(seconds).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        return format.Time ? date + "T" + time : date;
    }

    /// <summary>The day count of a text that a folder holds; null when reading it back would give another text.</summary>
    internal static (double Count, bool Date, bool Time)? Count(string text)
    {
        (string Pattern, bool Date, bool Time)[] known =
            [("yyyy-MM-dd", true, false), ("HH:mm", false, true), ("HH:mm:ss", false, true), ("yyyy-MM-ddTHH:mm", true, true), ("yyyy-MM-ddTHH:mm:ss", true, true)];
        foreach (var (pattern, date, time) in known)
        {
            if (!DateTime.TryParseExact(text, pattern, CultureInfo.InvariantCulture, DateTimeStyles.NoCurrentDateDefault, out var moment)) continue;
            var count = date ? (moment - Start).TotalDays : moment.TimeOfDay.TotalDays;
            if (Text(count, (date, time), false) == text) return (count, date, time);
        }

        return null;
    }

    /// <summary>Whether a number format shows a date, a time, or both; what stands in quotes, brackets or after a backslash is no sign of it.</summary>
    internal static (bool Date, bool Time) Shows(string format)
    {
        bool date = false, time = false, isMonthOrMinute = false;
        for (var i = 0; i < format.Length && format[i] != ';'; i++)
        {
            switch (char.ToLowerInvariant(format[i]))
            {
                case '"':
                    i = Past(format, i, '"');
                    break;
                case '[':
                    var end = Past(format, i, ']');
                    time |= end > i + 1 && format.AsSpan(i + 1, end - i - 1).Trim("hmsHMS").IsEmpty;
                    i = end;
                    break;
                case '\\' or '_' or '*':
                    i++;
                    break;
                case 'y' or 'd':
                    date = true;
                    break;
                case 'h' or 's':
                    time = true;
                    break;
                case 'm':
                    isMonthOrMinute = true;
                    break;
                case 'g' or 'e' or '#' or '0' or '?' when !date && !time && !isMonthOrMinute:
                    return (false, false);
            }
        }

        return (date || (isMonthOrMinute && !time), time);
    }

    private static int Past(string format, int from, char close) => format.IndexOf(close, from + 1) is var end and > 0 ? end : format.Length;
}
