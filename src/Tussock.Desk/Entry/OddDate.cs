using System.Globalization;
using Tussock.Fieldwork;

namespace Tussock.Desk.Entry;

/// <summary>Why a date on a sheet is odd, so that it is written only when somebody presses once more; null when it is not.</summary>
internal static class OddDate
{
    /// <summary>A check: outside the days on which it counts, in another year, still to come.</summary>
    internal static Phrase? OfCheck(DateOnly date, DateOnly today, CheckWindow? expected)
    {
        if (expected is not { } window) return Phrase.Of("enter.warn_not_set", ("date", date));
        if (date > today) return Phrase.Of("enter.warn_future", ("date", date));
        if (date.Year != window.On.Year) return Phrase.Of("enter.warn_year", ("date", date), ("year", Year(window.On)));
        return window.Holds(date) ? null : Phrase.Of("enter.warn_window", ("date", date), ("from", window.From), ("to", window.To));
    }

    /// <summary>A belt: before the line was set out, in another year, still to come.</summary>
    internal static Phrase? OfBelt(DateOnly date, DateOnly today, DateOnly? setOn)
    {
        if (OfLine(date, today, setOn) is { } odd) return odd;
        return setOn is { } set && date < set ? Phrase.Of("enter.warn_before_set_out", ("date", date), ("on", set)) : null;
    }

    /// <summary>A reading of what is left of a nest: before it was found lost, in another year, still to come.</summary>
    internal static Phrase? OfRemains(DateOnly date, DateOnly today, DateOnly? setOn, DateOnly? foundLost)
    {
        if (OfLine(date, today, setOn) is { } odd) return odd;
        return foundLost is { } lost && date < lost ? Phrase.Of("enter.warn_before_lost", ("date", date), ("on", lost)) : null;
    }

    /// <summary>A set-out: still to come, or another day than the line's.</summary>
    internal static Phrase? OfSetOut(DateOnly date, DateOnly today, DateOnly? lineSetOn)
    {
        if (date > today) return Phrase.Of("enter.warn_future", ("date", date));
        return lineSetOn is { } set && set != date ? Phrase.Of("enter.warn_other_set_out", ("date", date), ("on", set)) : null;
    }

    /// <summary>Whatever is done on a line: still to come, or in another year than its set-out.</summary>
    private static Phrase? OfLine(DateOnly date, DateOnly today, DateOnly? setOn)
    {
        if (date > today) return Phrase.Of("enter.warn_future", ("date", date));
        return setOn is { } set && date.Year != set.Year ? Phrase.Of("enter.warn_line_year", ("date", date), ("year", Year(set))) : null;
    }

    private static string Year(DateOnly date) => date.Year.ToString(CultureInfo.InvariantCulture);
}
