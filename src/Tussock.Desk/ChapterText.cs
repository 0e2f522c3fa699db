using System.Collections.Concurrent;
using System.Runtime.CompilerServices;
using Tussock.Reports;
using Tussock.Reports.Technical;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Desk;

/// <summary>Chapters of the technical report as HTML, each written once for an answer however many look at it. May be shared between threads.</summary>
public static class ChapterText
{
    private static readonly ConditionalWeakTable<ReportNumbers, ConcurrentDictionary<(string Anchor, string Language, UnitChoice Units, ReportMaking Making), Lazy<string>>> Written = [];

    /// <summary>The chapter of this anchor; the first where there is none.</summary>
    public static string Of(string anchor, ReportNumbers numbers, ReportMaking making, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(words);
        var anchors = TechnicalReport.ChapterKeys.Select(TechnicalReport.Anchor).ToArray();
        var known = anchors.Contains(anchor) ? anchor : anchors[0];
        return Written.GetValue(numbers, _ => new()).GetOrAdd((known, words.Language, words.Units, making), _ => new Lazy<string>(() => TechnicalReport.Chapter(known, numbers, making, words))).Value;
    }
}
