using FsCheck.Xunit;
using Tussock.Review;
using Xunit;

namespace Tussock.Tests.Review;

public static class InspectorLaws
{
    [Property(MaxTest = 40)]
    public static void The_order_of_rows_changes_nothing(int seed)
    {
        var sorted = Told(Spoiled());
        Assert.Equal(sorted, Told(Spoiled().Shuffled(seed)));
        Assert.True(sorted.Count > 12);
    }

    [Fact]
    public static void Every_rule_of_the_catalogue_has_both_sentences()
    {
        var keys = Words.Catalogue.English.Keys.Where(k => k.StartsWith("review.", StringComparison.Ordinal) && k.EndsWith("_todo", StringComparison.Ordinal));
        Assert.All(keys, k => Assert.True(Words.Catalogue.English.Has(k[..^"_todo".Length])));
    }

    [Fact]
    public static void Every_rule_stands_on_the_page_of_rules()
    {
        var page = File.ReadAllText(Path.Combine(Checks.Folder(".."), "..", "docs", "methods", "review.md"));
        var rules = Words.Catalogue.English.Keys.Where(k => k.StartsWith("review.", StringComparison.Ordinal) && k.EndsWith("_todo", StringComparison.Ordinal)).Select(k => k["review.".Length..^"_todo".Length]);
        Assert.All(rules, r => Assert.Contains("`" + r + "`", page, StringComparison.Ordinal));
    }

    /// <summary>A season with many mistakes, none of which makes it unreadable.</summary>
    private static SmallSeason Spoiled() => new SmallSeason()
        .With("visits.csv", 3, "finding", "depredated").With("visits.csv", 3, "eggs_intact", "0")
        .Add("visits.csv", "transect=T1 nest=1 visited_on=2024-06-03 finding=other_loss")
        .Add("visits.csv", "transect=T2 nest=4 visited_on=2024-05-01 finding=intact observer=Crew-2")
        .Add("visits.csv", "transect=T2 nest=4 visited_on=2024-06-03 finding=not_relocated")
        .With("visits.csv", 15, "visited_on", "2024-06-20").With("visits.csv", 17, "finding", "not_relocated")
        .Add("remains.csv", "transect=T2 nest=1 visited_on=2024-06-03 sign=rooting value=yes")
        .Add("cameras.csv", "transect=T2 nest=1 day=11 culprit=gnome took_eggs=yes")
        .With("nests.csv", 2, "direction", "NNN").With("nests.csv", 3, "direction", "E").With("nests.csv", 4, "cover", "moss")
        .With("nests.csv", 6, "flag_lat", "27.6").With("belts.csv", 2, "arm_span_m", "0.9").With("belts.csv", 3, "status", "not_counted")
        .With("transects.csv", 2, "flags_out", "6").With("transects.csv", 2, "flags_in", "4");

    /// <summary>Findings without their lines, in a fixed order.</summary>
    private static List<string> Told(SmallSeason season) =>
        [.. Inspector.Findings(season.Read()).Select(p => $"{p.Severity} {p.Rule} {p.Transect} {p.Nest} {p.Weight} {p.Place.File} {p.Place.Column} {Words.Catalogue.English.Say(p.What)}").Order(StringComparer.Ordinal)];
}
