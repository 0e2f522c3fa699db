using System.Collections.Immutable;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>Something that lasted from one date to another, with the words beside it.</summary>
/// <param name="From">First date.</param>
/// <param name="To">Last date; null: to the end of the strip.</param>
/// <param name="Text">Words beside it, for example "30 head".</param>
public sealed record DatedSpan(DateOnly From, DateOnly? To, string Text);

/// <summary>Rain on a date.</summary>
/// <param name="On">The date.</param>
/// <param name="Amount">Amount in any unit, above 0.</param>
/// <param name="Text">The amount in words, for example "71 mm (2.8 in)".</param>
public sealed record DatedRain(DateOnly On, double Amount, string Text);

/// <summary>Nests lost between two dates, or on one.</summary>
/// <param name="After">Last date on which they were whole.</param>
/// <param name="Until">Date on which they were found lost, or seen taken.</param>
/// <param name="Nests">How many.</param>
public sealed record DatedLosses(DateOnly After, DateOnly Until, int Nests);

/// <summary>What a strip of time shows. Anything may be empty; an empty row is left out.</summary>
public sealed record TimeContent
{
    /// <summary>Dates of set-out.</summary>
    public ImmutableArray<DateOnly> SetOut { get; init; } = [];

    /// <summary>Dates of visits.</summary>
    public ImmutableArray<DateOnly> Visits { get; init; } = [];

    /// <summary>Losses; equal spans are added up.</summary>
    public ImmutableArray<DatedLosses> Losses { get; init; } = [];

    /// <summary>Rain.</summary>
    public ImmutableArray<DatedRain> Rain { get; init; } = [];

    /// <summary>Cattle in, burning, mowing …</summary>
    public ImmutableArray<DatedSpan> Land { get; init; } = [];

    internal IEnumerable<DateOnly> Dates => [.. SetOut, .. Visits, .. Losses.SelectMany(l => (DateOnly[])[l.After, l.Until]), .. Rain.Select(r => r.On), .. Land.Select(l => l.From), .. Land.Where(l => l.To is not null).Select(l => l.To!.Value)];
}

/// <summary>Set-out, visits, losses, rain and cattle on one axis of dates, so that a reader sees what came together.</summary>
public static class TimeStrip
{
    private const double NameRoom = 78;
    private const double LaneHeight = 9;
    private const double RainHeight = 34;
    private const int MostLanes = 24;

    /// <summary>Draws the strip.</summary>
    /// <param name="content">What is shown.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(TimeContent content, Catalogue words, double width = Svg.ColumnWidth)
    {
        var losses = content.Losses.GroupBy(l => (l.After, l.Until)).Select(g => new DatedLosses(g.Key.After, g.Key.Until, g.Sum(l => l.Nests))).OrderBy(l => l.Until).ThenBy(l => l.After).ToArray();
        var dates = content.Dates.ToArray();
        if (dates.Length == 0) return Empty(words, width);
        var (first, last) = (dates.Min().DayNumber, dates.Max().DayNumber);
        var scale = new Scale(first - 1, Math.Max(last, first) + 2, NameRoom, width - 8);
        var lanes = Lanes(losses, scale);
        var laneCount = Math.Min(MostLanes, lanes.DefaultIfEmpty(-1).Max() + 1);
        double[] heights = [content.SetOut.Length + content.Visits.Length > 0 ? 22 : 0, losses.Length > 0 ? (laneCount * LaneHeight) + 10 : 0, content.Rain.Length > 0 ? RainHeight + 16 : 0, content.Land.Length * 17];
        var bottom = 4 + heights.Sum();
        var svg = new Svg(width, bottom + 20, words.Say("pictures.time_title"), words.Say("pictures.time_description"));
        Weeks(svg, scale, bottom, words);
        Visits(svg, scale, 4, content, words);
        Losses(svg, scale, 4 + heights[0], losses, lanes, words);
        Rain(svg, scale, 4 + heights[0] + heights[1], content.Rain, words);
        Land(svg, scale, 4 + heights[0] + heights[1] + heights[2], content.Land, words);
        return svg.ToString();
    }

    /// <summary>Day and the first letters of the month: "9 Jun".</summary>
    internal static string ShortDate(DateOnly date, Catalogue words)
    {
        var month = words.Template("month." + Numbers.Whole(date.Month));
        return Numbers.Whole(date.Day) + " " + month[..Math.Min(3, month.Length)];
    }

    private static string Empty(Catalogue words, double width)
    {
        var svg = new Svg(width, 30, words.Say("pictures.time_title"));
        svg.Text(0, 18, words.Say("pictures.no_dates"));
        return svg.ToString();
    }

    private static void Weeks(Svg svg, Scale scale, double bottom, Catalogue words)
    {
        var from = (int)scale.From + 1;
        var step = Math.Max(7, (int)Math.Ceiling((scale.To - scale.From) / 8 / 7) * 7);
        for (var day = from; day <= scale.To; day += step)
        {
            svg.Line(scale.At(day), 2, scale.At(day), bottom, Paint.Line(Ink.Grid, 0.5));
            var text = ShortDate(DateOnly.FromDayNumber(day), words);
            if (scale.At(day) + (Svg.TextWidth(text, Svg.SmallSize) / 2) <= scale.ToAt + 8) svg.Text(scale.At(day), bottom + 13, text, Svg.SmallSize, Anchor.Middle);
        }
    }

    private static void Visits(Svg svg, Scale scale, double y, TimeContent content, Catalogue words)
    {
        if (content.SetOut.Length + content.Visits.Length == 0) return;
        svg.Text(0, y + 13, Svg.Cut(words.Say("pictures.visits"), NameRoom - 4, Svg.SmallSize), Svg.SmallSize);
        foreach (var date in content.SetOut.Distinct().Order()) svg.Rect(scale.At(date.DayNumber) - 3.5, y + 6, 7, 7, new Paint(Ink.Paper, Ink.Dark, 1.2));
        foreach (var date in content.Visits.Distinct().Order()) svg.Points([(scale.At(date.DayNumber) - 4.5, y + 5), (scale.At(date.DayNumber) + 4.5, y + 5), (scale.At(date.DayNumber), y + 14)], true, new Paint(Ink.Dark));
    }

    /// <summary>A lane for each span, so that none lies over another; room for its count is kept behind it.</summary>
    private static int[] Lanes(DatedLosses[] losses, Scale scale)
    {
        var ends = new List<double>();
        var lanes = new int[losses.Length];
        for (var i = 0; i < lanes.Length; i++)
        {
            var from = scale.At(losses[i].After.DayNumber);
            var lane = ends.FindIndex(end => end <= from);
            if (lane < 0)
            {
                lane = ends.Count;
                ends.Add(0);
            }

            ends[lane] = scale.At(losses[i].Until.DayNumber) + 22;
            lanes[i] = lane;
        }

        return lanes;
    }

    private static void Losses(Svg svg, Scale scale, double y, DatedLosses[] losses, int[] lanes, Catalogue words)
    {
        if (losses.Length == 0) return;
        svg.Text(0, y + 10, Svg.Cut(words.Say("pictures.losses"), NameRoom - 4, Svg.SmallSize), Svg.SmallSize);
        var left = 0;
        for (var i = 0; i < losses.Length; i++)
        {
            var (loss, top) = (losses[i], y + 2 + (lanes[i] * LaneHeight));
            if (lanes[i] >= MostLanes)
            {
                left += loss.Nests;
                continue;
            }

            var (from, to) = (scale.At(loss.After.DayNumber), scale.At(loss.Until.DayNumber));
            svg.Rect(from, top, Math.Max(4, to - from), LaneHeight - 3, new Paint("#F6C9A8", Ink.Eaten, 0.8));
            svg.Text(Math.Max(from + 4, to) + 3, top + 6, Numbers.Whole(loss.Nests), 7.5);
        }

        if (left > 0) svg.Text(0, y + 20, words.Say(Phrase.Of("pictures.more_losses", ("nests", left))), 7.5);
    }

    private static void Rain(Svg svg, Scale scale, double y, ImmutableArray<DatedRain> rain, Catalogue words)
    {
        if (rain.IsEmpty) return;
        svg.Text(0, y + RainHeight + 8, Svg.Cut(words.Say("pictures.rain"), NameRoom - 4, Svg.SmallSize), Svg.SmallSize);
        var most = rain.Max(r => r.Amount);
        svg.Line(scale.FromAt, y + RainHeight + 12, scale.ToAt, y + RainHeight + 12, Paint.Line(Ink.Grid, 0.5));
        var free = 0.0;
        foreach (var day in rain.OrderBy(r => r.On))
        {
            var (x, high) = (scale.At(day.On.DayNumber), day.Amount / most * RainHeight);
            svg.Rect(x - 3, y + RainHeight + 12 - high, 6, high, new Paint(Ink.Water, Ink.Dark, 0.8));
            if (x + 6 < free) continue;
            svg.Text(x + 6, y + RainHeight + 9, day.Text, Svg.SmallSize);
            free = x + 10 + Svg.TextWidth(day.Text, Svg.SmallSize);
        }
    }

    private static void Land(Svg svg, Scale scale, double y, ImmutableArray<DatedSpan> spans, Catalogue words)
    {
        if (spans.IsEmpty) return;
        svg.Text(0, y + 12, Svg.Cut(words.Say("pictures.land"), NameRoom - 4, Svg.SmallSize), Svg.SmallSize);
        foreach (var span in spans.OrderBy(s => s.From))
        {
            var (from, to) = (scale.At(span.From.DayNumber), span.To is { } end ? scale.At(end.DayNumber) : scale.ToAt);
            var wide = Math.Max(4, to - from);
            svg.Rect(from, y + 3, wide, 11, new Paint(Ink.Other, Ink.Dark, 0.9));
            var text = Svg.TextWidth(span.Text, Svg.SmallSize);
            if (from - text - 6 > scale.FromAt) svg.Text(from - 5, y + 12, span.Text, Svg.SmallSize, Anchor.End);
            else if (from + wide + text + 6 < scale.ToAt) svg.Text(from + wide + 5, y + 12, span.Text, Svg.SmallSize);
            else svg.Text(from + 5, y + 12, span.Text, Svg.SmallSize, Anchor.Start, Ink.Dark);
            y += 17;
        }
    }
}
