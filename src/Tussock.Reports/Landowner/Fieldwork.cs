using System.Collections.Immutable;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Reports.Landowner;

/// <summary>Who walked, and when.</summary>
internal static class Fieldwork
{
    internal static Phrase WhoAndWhen(Season season, ImmutableArray<Pasture> pastures, Catalogue words)
    {
        var nests = season.Nests.Where(n => n.IsSet && pastures.Contains(n.Transect.Pasture)).ToArray();
        var visits = season.Visits.Where(v => pastures.Contains(v.Nest.Transect.Pasture) && v.Day >= 1).ToArray();
        var people = visits.Select(v => v.Observer).Concat(season.Transects.Where(t => pastures.Contains(t.Pasture)).Select(t => t.Source.Text("observer")))
            .Concat(season.Segments.Where(s => pastures.Contains(s.Transect.Pasture)).Select(s => s.Observer)).Where(p => p.Length > 0).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray();
        return Phrase.Of("report.walked",
            ("who", people.Length == 0 ? Phrase.Of("report.names_not_written") : Phrase.Of("report.as_written", ("text", string.Join(", ", people)))),
            ("set", Dates(nests.Select(n => n.SetOn!.Value), words)),
            ("checked", Dates(visits.Select(v => v.VisitedOn).OfType<DateOnly>(), words)));
    }

    /// <summary>"11 May 2026", or the first and the last; that none was written.</summary>
    internal static Phrase Dates(IEnumerable<DateOnly> dates, Catalogue words)
    {
        var all = dates.ToArray();
        if (all.Length == 0) return Phrase.Of("report.dates_not_written");
        var (first, last) = (all.Min(), all.Max());
        return first == last ? Phrase.Of("report.on", ("date", first)) : Phrase.Of("report.from_to", ("first", Numbers.Date(first, words)), ("last", Numbers.Date(last, words)));
    }
}
