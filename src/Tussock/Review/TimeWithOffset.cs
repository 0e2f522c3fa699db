using Tussock.Records;

namespace Tussock.Review;

/// <summary>Times that say how far their clock was from UTC: days are counted by clocks of the land, so those of another clock are hours off.</summary>
internal static class TimeWithOffset
{
    internal static void Look(Inspection on)
    {
        Look(on, RecordKind.Nests, "set_at");
        Look(on, RecordKind.Visits, "visited_at");
        Look(on, RecordKind.Cameras, "event_at");
    }

    private static void Look(Inspection on, RecordKind kind, string column)
    {
        if (on.Season.Tables.Table(kind) is not { } table || table.IndexOf(column) is not (>= 0 and var at)) return;
        var times = table.Rows.Select(r => (r.Line, Text: at < r.Cells.Length ? r.Cells[at].Trim() : "")).Where(t => Cell.HasOffset(t.Text)).ToArray();
        if (times.Length == 0) return;
        // The earliest text, whatever the order of the rows.
        var (line, found) = times.OrderBy(t => t.Text, StringComparer.Ordinal).ThenBy(t => t.Line).First();
        on.Add("time_with_offset", Severity.Odd, new Place(kind.File, line, column), ("count", times.Length), ("found", found));
    }
}
