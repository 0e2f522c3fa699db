using System.Collections.Immutable;
using Tussock.Fates;

namespace Tussock.Verdicts;

/// <summary>General advice beside a verdict: ordered by caution, deferring to those who know the land and the law.</summary>
/// <remarks>Where losses other than depredation lead, predators are not spoken of at all.</remarks>
/// <source>Common practice, no source.</source>
public static class Advices
{
    /// <summary>The advice of a verdict, the most careful first.</summary>
    /// <param name="kind">The verdict.</param>
    /// <param name="leadingCause">The cause that leads the losses when it isn't depredation; else none.</param>
    public static ImmutableArray<Phrase> For(VerdictKind kind, Cause leadingCause = Cause.None)
    {
        var keys = kind switch
        {
            VerdictKind.Good => ["keep", "look_again"],
            VerdictKind.SurvivalGoodCoverThin => ["look_again", "cover_watch", "cover_talk", "defers"],
            VerdictKind.CoverLimited => ["look_again", "cover_talk", "defers"],
            VerdictKind.LossesDespiteCover => ["look_again"],
            _ => (string[])["wait", "more_lines"],
        };
        return [.. keys.SelectMany(k => With(k, kind, leadingCause)).Append("index").Select(k => Phrase.Of("advice." + k))];
    }

    // After the first, careful word: what to find out about the losses, where there are many.
    private static IEnumerable<string> With(string key, VerdictKind kind, Cause leading)
    {
        yield return key;
        if (key != "look_again" || kind is not (VerdictKind.LossesDespiteCover or VerdictKind.CoverLimited)) yield break;
        switch (leading)
        {
            case Cause.None:
                yield return "cameras";
                if (kind != VerdictKind.LossesDespiteCover) break;
                yield return "predators_defer";
                yield return "weak_ground";
                break;
            case Cause.Trampled or Cause.Livestock:
                yield return "livestock_talk";
                break;
            case Cause.MownOrDriven:
                yield return "mowing_talk";
                break;
            default:
                yield return "weather_years";
                break;
        }
    }
}
