namespace Tussock.Records;

/// <summary>Reads rows that happen at a day of a nest: visits, remains, camera events.</summary>
/// <remarks>
/// Day since set-out = difference of local dates, plus the difference of clock times ÷ 24 h only when both have one; a day that is written
/// stands as it is. A camera's time against a set-out with a date alone counts from noon; a camera's date alone is a whole day.
/// A camera whose clock was ahead by a written offset is set back by it. Changes of clock (daylight saving) never move a day.
/// </remarks>
internal sealed class DayReading(List<Problem> problems)
{
    private const double MinutesADay = 24 * 60;

    internal Visit Visit(TableColumns c, RecordRow r, Nest nest)
    {
        var on = c.Date(r, "visited_on");
        var at = c.Time(r, "visited_at");
        var finding = FindingOf(c, r);
        var cause = c.Token(r, "cause");
        return new Visit
        {
            Nest = nest,
            VisitedOn = on,
            VisitedAt = at,
            Day = Day(c, r, nest, on, at),
            Finding = finding,
            EggsIntact = c.Whole(r, "eggs_intact") ?? c.Whole(r, "eggs_found_whole"),
            Cause = cause.Length == 0 && finding == Finding.OtherLoss && c.Text(r, "finding").Length == 0 ? WhatWasSeen.SpoiledInPlace : cause,
            Observer = c.Text(r, "observer"),
            Source = c.Source(r),
        };
    }

    internal Remains Remains(TableColumns c, RecordRow r, Nest nest) =>
        new() { Nest = nest, Day = Day(c, r, nest, c.Date(r, "visited_on"), null), Sign = c.Token(r, "sign"), Value = c.Token(r, "value"), Source = c.Source(r) };

    internal CameraEvent Camera(TableColumns c, RecordRow r, Nest nest, double clockOffsetMin)
    {
        var role = c.Token(r, "role");
        var took = Cell.YesNo(c.Text(r, "took_eggs")) ?? (role is "took_first" or "took_later" ? true : null);
        return new CameraEvent
        {
            Nest = nest,
            Day = CameraDay(c, r, nest, clockOffsetMin),
            Culprit = c.Token(r, "culprit"),
            TookEggs = took,
            EggsTaken = c.Whole(r, "eggs_taken"),
            Role = role,
            Source = c.Source(r),
        };
    }

    internal static Deployment Deployment(TableColumns c, RecordRow r, Nest nest) =>
        new() { Nest = nest, Chosen = c.Token(r, "chosen"), ClockOffsetMin = c.Number(r, "clock_offset_min") ?? 0, Source = c.Source(r) };

    private Finding FindingOf(TableColumns c, RecordRow r)
    {
        switch (c.Token(r, "finding"))
        {
            case "intact": return Finding.Intact;
            case "depredated": return Finding.Depredated;
            case "other_loss": return Finding.OtherLoss;
            case "not_relocated": return Finding.NotRelocated;
        }

        if (WhatWasSeen.FindingFrom(c.Source(r)) is { } finding) return finding;
        problems.Add(new Problem("no_finding", Severity.Stop, new Place(c.Table.Kind.File, r.Line, "finding"), Phrase.Of("reading.no_finding"), Phrase.Of("reading.no_finding_todo")));
        return Finding.NotRelocated;
    }

    private double? Day(TableColumns c, RecordRow r, Nest nest, DateOnly? on, TimeOnly? at)
    {
        if (on is null)
        {
            var day = c.Number(r, "day");
            if (day is null) problems.Add(new Problem("no_day", Severity.Stop, new Place(c.Table.Kind.File, r.Line, "visited_on"), Phrase.Of("reading.no_day"), Phrase.Of("reading.no_day_todo")));
            else if (day < 0) problems.Add(TableCheck.Unreadable(c.Table, r, "day", c.Text(r, "day"), Phrase.Of("reading.expect_day")));
            return day;
        }

        if (nest.SetOn is not { } set) return null;
        double days = on.Value.DayNumber - set.DayNumber;
        return at is { } clock && nest.SetAt is { } start ? days + ((clock.ToTimeSpan() - start.ToTimeSpan()).TotalMinutes / MinutesADay) : days;
    }

    private double? CameraDay(TableColumns c, RecordRow r, Nest nest, double clockOffsetMin)
    {
        var text = c.Text(r, "event_at");
        var back = clockOffsetMin / MinutesADay;
        if (text.Length == 0)
        {
            if (c.Number(r, "day") is { } day)
            {
                if (day < 0) problems.Add(TableCheck.Unreadable(c.Table, r, "day", c.Text(r, "day"), Phrase.Of("reading.expect_day")));
                return day - back;
            }

            problems.Add(new Problem("no_day", Severity.Stop, new Place(c.Table.Kind.File, r.Line, "event_at"), Phrase.Of("reading.no_event_time"), Phrase.Of("reading.no_event_time_todo")));
            return null;
        }

        if (nest.SetOn is not { } set || Cell.DateOf(text) is not { } date) return null;
        double days = date.DayNumber - set.DayNumber;
        if (text.Length <= 10) return days;
        var noon = new TimeOnly(12, 0);
        return days + (((Cell.Time(text) ?? noon).ToTimeSpan() - (nest.SetAt ?? noon).ToTimeSpan()).TotalMinutes / MinutesADay) - back;
    }
}
