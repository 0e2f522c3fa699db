using Tussock.Records;

namespace Tussock.Review;

/// <summary>Two people made a record of one name, each with an id of its own; only one can stand.</summary>
internal static class NameTwice
{
    private const int MostShown = 3;

    internal static void Look(Inspection on)
    {
        foreach (var clash in on.Season.Clashes)
        {
            string[] differ = [.. clash.Differences().Take(MostShown).Select(d => d.Column + " " + Shown(d.Stands) + " / " + Shown(d.Other))];
            var how = differ.Length == 0 ? Phrase.Of("review.name_twice_alike") : Phrase.Of("review.name_twice_differ", ("cells", differ));
            on.Add("name_twice", new Rank(Severity.Contradiction, 20), clash.Other.Place(clash.What),
                ("what", Phrase.Of("reading.a_" + clash.What)), ("key", clash.Key), ("line", clash.Stands.Row.Line), ("how", how));
        }
    }

    private static string Shown(string text) => text.Length > 0 ? text : "–";
}
