using System.Collections.Immutable;
using Tussock.Pictures;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Desk;

/// <summary>What the years together have to look at and to take away: their pictures, and the numbers behind them.</summary>
public static class TogetherAway
{
    /// <summary>Columns of the numbers; shares from 0 to 1, limits of 95 %, empty where there is none.</summary>
    public static readonly ImmutableArray<string> Columns = ["level", "property", "pasture", "year", "lines", "whole", "known", "share_whole", "low", "high", "why_none"];

    /// <summary>The pictures in the order of the page: all years, then each pasture with several, by its name.</summary>
    /// <param name="known">What is known of the years.</param>
    /// <param name="words">The language.</param>
    public static ImmutableArray<(string Name, string Svg)> Pictures(YearsTogether known, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(known);
        ArgumentNullException.ThrowIfNull(words);
        var all = Draw(known, words, words.Say(Phrase.Of("pooling.picture", ("days", known.Days))), known.Rows.Where(r => r.Level != GroupLevel.PastureYear));
        return [("", all), .. known.Rows.Where(r => r.Level == GroupLevel.PastureYear).GroupBy(r => r.Property + ", " + r.Pasture).Where(p => p.Count() > 1)
            .Select(p => (p.Key, Draw(known, words, words.Say(Phrase.Of("desk.years_picture", ("group", p.Key))), p)))];
    }

    /// <summary>The numbers, a row a group.</summary>
    /// <param name="known">What is known of the years.</param>
    /// <param name="words">The language of reasons.</param>
    public static ImmutableArray<ImmutableArray<string>> Rows(YearsTogether known, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(known);
        return [.. known.Rows.Select(r => (ImmutableArray<string>)
        [
            r.Level switch { GroupLevel.Season => "all", GroupLevel.Year => "year", _ => "pasture and year" },
            r.Property ?? "", r.Pasture ?? "", r.Year, Text(r.Lines), Text(r.Counts.Intact), Text(r.Counts.FateKnown),
            Text(r.Whole.Value), Text(r.Whole.Low), Text(r.Whole.High), r.Whole.Why is { } why ? words.Say(why) : "",
        ])];
    }

    private static string Text(double? number) => number?.ToString("R", System.Globalization.CultureInfo.InvariantCulture) ?? "";

    private static string Draw(YearsTogether known, Catalogue words, string title, IEnumerable<TogetherRow> rows) => ShareChart.Draw(
        title,
        [.. rows.Select(r => new ShareRow(r.Year.Length > 0 ? r.Year : words.Say("pooling.together"), words.Say(Phrase.Of("report.of", ("whole", r.Counts.Intact), ("known", r.Counts.FateKnown))), Dot.Of(r.Whole), r.Year.Length > 0 ? DotShape.Disc : DotShape.Triangle, r.Whole.Why is { } why ? words.Say(why) : ""))],
        known.Benchmark,
        words);
}
