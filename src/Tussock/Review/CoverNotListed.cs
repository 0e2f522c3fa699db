using Tussock.Records;

namespace Tussock.Review;

/// <summary>A cover class that the season doesn't list, or none where a nest was set or clumps were counted.</summary>
internal static class CoverNotListed
{
    internal static void Look(Inspection on)
    {
        var listed = on.Season.Settings.CoverClasses.Select(c => c.Name).ToArray();
        if (listed.Length == 0) return;
        var names = listed.ToHashSet(StringComparer.Ordinal);
        var classes = string.Join(", ", listed);
        foreach (var nest in on.Season.Nests)
        {
            if (names.Contains(nest.Cover)) continue;
            if (nest.Cover.Length > 0) on.Add("cover_not_listed", Severity.Contradiction, nest.Source.Place("cover"), nest, Said(nest.Cover, listed, classes));
            else if (nest.IsSet) on.Add("cover_missing", Severity.Missing, nest.Source.Place("cover"), nest, ("classes", classes));
        }

        foreach (var segment in on.Season.Segments)
        {
            if (names.Contains(segment.Cover)) continue;
            if (segment.Cover.Length > 0) on.Add("cover_not_listed", Severity.Contradiction, segment.Source.Place("cover"), segment.Transect, Said(segment.Cover, listed, classes));
            else on.Add("cover_missing", Severity.Missing, segment.Source.Place("cover"), segment.Transect, ("classes", classes));
        }
    }

    private static (string Name, object Value)[] Said(string cover, string[] listed, string classes) =>
    [
        ("cover", TableCheck.Shown(cover)),
        ("classes", classes),
        ("then", Array.Find(listed, c => Cell.Token(c) == Cell.Token(cover)) is { } near ? Phrase.Of("review.cover_near", ("near", near)) : Phrase.Of("review.cover_other")),
    ];
}
