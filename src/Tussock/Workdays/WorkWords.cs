using System.Globalization;

namespace Tussock.Workdays;

/// <summary>A plan of work in words; calendar, command line and desk say the same.</summary>
public static class WorkWords
{
    /// <summary>What is done.</summary>
    public static Phrase What(LineWork work)
    {
        ArgumentNullException.ThrowIfNull(work);
        return Phrase.Of(work.CheckDay == 0 ? "workdays.set_out" : work.OffDays == 0 ? "workdays.check" : work.OffDays < 0 ? "workdays.check_early" : "workdays.check_late",
            ("line", work.Line.Name), ("pasture", work.Line.Pasture.Name), ("day", work.CheckDay), ("off", Math.Abs(work.OffDays)));
    }

    /// <summary>A time of day.</summary>
    public static string Clock(TimeOnly time) => time.ToString("HH:mm", CultureInfo.InvariantCulture);
}
