using System.Globalization;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Exchange.CameraPackage;

/// <summary>A camera as a package will show it: its key there, its place, its days.</summary>
internal sealed record WrittenCamera
{
    internal required string Key { get; init; }

    internal required Nest Nest { get; init; }

    /// <summary>Its row; null for one that was made because events name none.</summary>
    internal required Deployment? Row { get; init; }

    internal required Position At { get; init; }

    internal required int? UncertaintyM { get; init; }

    internal required DateTime From { get; init; }

    internal required DateTime To { get; init; }

    internal double AheadMin => Row?.ClockOffsetMin ?? 0;

    /// <summary>A local date, or date and time; a date alone is the day's begin or its last second.</summary>
    internal static DateTime? Moment(string text, bool isEnd)
    {
        if (Cell.DateOf(text) is not { } date) return null;
        return date.ToDateTime(Cell.Time(text) is { } time && text.Length > 10 ? time : isEnd ? new TimeOnly(23, 59, 59) : TimeOnly.MinValue);
    }

    /// <summary>The tags by which a reader of ours gets everything back; without names and numbers of the season where it is coarsened.</summary>
    internal string Tags(bool isExact)
    {
        var source = Row?.Source;
        string Cells(string column) => source?.Text(column) ?? "";
        var tags = new List<(string Name, string Value)> { ("chosen", Cells("chosen")), ("worked_until", Cells("worked_until")), ("failed_because", isExact ? Cells("failed_because") : ""), ("distance_m", Cells("distance_m")) };
        if (AheadMin != 0) tags.Add(("clock_was_ahead_min", AheadMin.ToString("R", CultureInfo.InvariantCulture)));
        if (Cells("from").Length == 10) tags.Add(("from", Cells("from")));
        if (Cells("to").Length == 10) tags.Add(("to", Cells("to")));
        if (isExact) tags.Insert(0, ("nest", Nest.Transect.Name + "-" + Words.Numbers.Whole(Nest.Number)));
        return string.Join('|', tags.Where(t => t.Value.Length > 0).Select(t => t.Name + ":" + t.Value.Replace('|', '/')));
    }
}
