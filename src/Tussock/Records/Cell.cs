using System.Globalization;

namespace Tussock.Records;

/// <summary>Reads the text of one cell. Null always means "empty or not readable as this"; <see cref="CellCheck"/> says which.</summary>
public static class Cell
{
    /// <summary>A finite number with a decimal point; no group signs, no decimal comma.</summary>
    public static double? Number(string text) =>
        text.Length > 0 && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var x) && double.IsFinite(x) ? x : null;

    /// <summary>A whole number of at most nine digits; "3.0" counts as 3.</summary>
    public static int? Whole(string text)
    {
        if (int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var n)) return n;
        return Number(text) is { } x && x == Math.Floor(x) && Math.Abs(x) < 1e9 ? (int)x : null;
    }

    /// <summary>A date, year-month-day.</summary>
    public static DateOnly? Date(string text) => DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date) ? date : null;

    /// <summary>A local time of day: "18:30" or "18:30:15", alone or at the end of a local date and time (T or a blank between, an offset is ignored: the time is local).</summary>
    public static TimeOnly? Time(string text)
    {
        var clock = Clock(text);
        if (OffsetIn(clock) is > 0 and var zone) clock = clock[..zone];
        return TimeOnly.TryParseExact(clock, ["HH:mm", "H:mm", "HH:mm:ss", "HH:mm:ss.FFF"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var time) ? time : null;
    }

    /// <summary>Whether a time says how far its clock was from UTC.</summary>
    public static bool HasOffset(string text) => OffsetIn(Clock(text)) > 0 && Time(text) is not null;

    /// <summary>The date of a local date, or of a local date and time.</summary>
    public static DateOnly? DateOf(string text) => text.Length >= 10 ? Date(text[..10]) : null;

    /// <summary>yes or no.</summary>
    public static bool? YesNo(string text) => Token(text) switch
    {
        "yes" or "y" or "true" or "1" => true,
        "no" or "n" or "false" or "0" => false,
        _ => null,
    };

    /// <summary>A token in its canonical spelling: lower case, underscores for blanks and hyphens.</summary>
    public static string Token(string text)
    {
        var trimmed = text.Trim();
        foreach (var c in trimmed) if (c is ' ' or '-' || char.IsAsciiLetterUpper(c)) return trimmed.ToLowerInvariant().Replace(' ', '_').Replace('-', '_');
        return trimmed;
    }

    private static string Clock(string text) => text.Length > 10 && (text[10] is 'T' or ' ') ? text[11..] : text;

    private static int OffsetIn(string clock) => clock.AsSpan().IndexOfAny(['Z', '+', '-']);
}
