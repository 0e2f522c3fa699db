using Tussock.Records;

namespace Tussock.Review;

/// <summary>One observer written in spellings that differ only in capitals, blanks and hyphens.</summary>
internal static class ObserverSpellings
{
    internal static void Look(Inspection on)
    {
        var spellings = new Dictionary<string, (int Count, Source First, string Column)>(StringComparer.Ordinal);
        foreach (var visit in on.Season.Visits) Note(spellings, visit.Observer, visit.Source, "observer");
        foreach (var segment in on.Season.Segments) Note(spellings, segment.Observer, segment.Source, "observer");
        foreach (var walk in on.Season.CrewWalks) Note(spellings, walk.Observer, walk.Source, "observer");
        foreach (var transect in on.Season.Transects) Note(spellings, transect.Source.Text("observer"), transect.Source, "observer");
        foreach (var person in spellings.GroupBy(s => Letters(s.Key), StringComparer.Ordinal))
        {
            if (person.Count() < 2) continue;
            var (usual, others) = (person.OrderByDescending(s => s.Value.Count).ThenBy(s => s.Key, StringComparer.Ordinal).First().Key, person);
            foreach (var (spelling, use) in others)
            {
                if (spelling != usual) on.Add("observer_spellings", Severity.Odd, use.First.Place(use.Column), ("found", TableCheck.Shown(spelling)), ("usual", TableCheck.Shown(usual)), ("rows", use.Count));
            }
        }
    }

    private static void Note(Dictionary<string, (int Count, Source First, string Column)> spellings, string name, Source source, string column)
    {
        if (name.Length == 0) return;
        if (!spellings.TryGetValue(name, out var use)) spellings.Add(name, (1, source, column));
        else spellings[name] = (use.Count + 1, IsEarlier(source, use.First) ? source : use.First, column);
    }

    private static bool IsEarlier(Source a, Source b) => a.Table.Kind == b.Table.Kind && a.Row.Line < b.Row.Line;

    private static string Letters(string name) => new([.. name.Where(c => !char.IsWhiteSpace(c) && c is not ('-' or '_' or '.')).Select(char.ToLowerInvariant)]);
}
