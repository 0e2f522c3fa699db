using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Verdicts;

namespace Tussock.Results;

/// <summary>The sentences that command line and report both say about a group: each number with its doubt, in words.</summary>
public static class Sentences
{
    /// <summary>"13 of 24 simulated nests were still whole after 28 days (54 %)."; without a counted share the counts and why there is none.</summary>
    public static Phrase Count(GroupResults group, Trial trial) => (group.Day28.Value, group.Counts) switch
    {
        ({ } share, var c) => Phrase.Of("say.count", ("intact", c.Intact), ("known", c.FateKnown), ("days", trial.Days), ("share", share)),
        (null, { FateKnown: > 0 } c) => Phrase.Of("say.no_share", ("why", group.Day28.Why!)),
        _ => Phrase.Of("say.nothing_known", ("nests", group.Counts.Nests)),
    };

    /// <summary>"95 % interval 16–88 % (cluster-robust …)"; the reason where there are no limits.</summary>
    public static Phrase Interval(Estimate estimate) => estimate is { Low: { } low, High: { } high }
        ? Phrase.Of("say.interval", ("level", estimate.Level), ("range", Words.Numbers.PercentRange(low, high)), ("method", estimate.Method))
        : Phrase.Of("say.no_interval", ("why", (object?)estimate.Why ?? ""));

    /// <summary>"The chance that survival is at least 50 % is about 63 %."</summary>
    public static Phrase Chance(Answer<double> chance, double benchmark) => chance.HasValue
        ? Phrase.Of("say.chance", ("benchmark", benchmark), ("chance", ChanceInWords(chance.Value)))
        : Phrase.Of("say.no_chance", ("benchmark", benchmark), ("why", chance.Why));

    /// <summary>A chance in words: a rounded 0 % or 100 % would promise what no sample can.</summary>
    public static Phrase ChanceInWords(double chance) => chance switch
    {
        > Calls.NearlyCertain => Phrase.Of("say.over_99"),
        < 1 - Calls.NearlyCertain => Phrase.Of("say.under_1"),
        _ => Phrase.Of("say.about", ("chance", chance)),
    };

    /// <summary>What ended the watching without a loss: "2 nests ended on day 14: eggs spoiled, not counted as losses."</summary>
    public static ImmutableArray<Phrase> EndedWatching(GroupResults group) =>
    [
        .. group.Fates.Where(f => f.EndedBy is not null).GroupBy(f => (f.LastIntact, f.EndedBy)).OrderBy(g => g.Key.LastIntact).ThenBy(g => g.Key.EndedBy, StringComparer.Ordinal)
            .Select(g => Phrase.Of("say.ended", ("count", g.Count()), ("day", g.Key.LastIntact), ("how", Phrase.Of("say.ended." + Known(g.Key.EndedBy!))))),
    ];

    /// <summary>What not to say of a season that was checked too late: the share whole at that late check, as if it were that of the trial's end; null otherwise.</summary>
    public static Phrase? NotToSay(GroupResults group, Trial trial)
    {
        if (group.Day28 is not { Value: null, Why.Key: "counted.checked_too_late" }) return null;
        var seen = group.Fates.Where(f => f.IsLost || f.Day28 == FateAt.Survived).ToArray();
        var whole = seen.Count(f => !f.IsLost);
        return Phrase.Of("say.not_to_say", ("intact", whole), ("nests", seen.Length), ("share", (double)whole / seen.Length), ("day", seen.Max(f => f.FirstLost ?? f.LastIntact)), ("days", trial.Days));
    }

    /// <summary>What is known of nests of unknown fate: how many, how many of them could not be found, and the two extremes; null where only artefacts ended the watching, which are told by themselves.</summary>
    public static Phrase? Unknown(GroupResults group)
    {
        var c = group.Counts;
        if (!group.Fates.Any(f => f.Day28 == FateAt.Unknown && f.EndedBy is null) || !group.Day28IfUnknownLost.HasValue || !group.Day28IfUnknownSurvived.HasValue) return null;
        return Phrase.Of("say.unknown", ("count", c.Unknown), ("found", group.Fates.Count(f => f.IsNotRelocated && f.Day28 == FateAt.Unknown)), ("low", group.Day28IfUnknownLost.Value), ("high", group.Day28IfUnknownSurvived.Value));
    }

    /// <summary>"It leans below 50 % (63 : 37)."; null when it leans neither way or is called.</summary>
    public static Phrase? Leaning(Verdict verdict, double benchmark) => verdict.Survival is { IsMade: false, LeaningChance: { } chance } call
        ? Phrase.Of(call.Leaning == Verdicts.Leaning.Above ? "say.leans_above" : "say.leans_below", ("benchmark", benchmark), ("chance", ChanceInWords(chance)))
        : null;

    /// <summary>The reasons of a verdict as sentences: each begins with a capital and ends with a stop.</summary>
    public static IEnumerable<string> Because(Verdict verdict, Words.Catalogue words) => verdict.Because.Select(b => Sentence(words.Say(b)));

    /// <summary>A clause as a sentence: a capital first, a stop last.</summary>
    public static string Sentence(string clause) => clause.Length == 0 ? "" : Heading(clause) + (clause[^1] is '.' or '!' or '?' ? "" : ".");

    /// <summary>A clause as a heading: a capital first, no stop.</summary>
    public static string Heading(string clause) => clause.Length == 0 ? "" : char.ToUpperInvariant(clause[0]) + clause[1..];

    /// <summary>How many more lines would settle it, with nests, eggs and days; null when it is settled.</summary>
    public static Phrase? MoreLines(VerdictRow row, Trial trial)
    {
        if (row.MoreLines is not { } more) return null;
        if (!more.HasValue) return Phrase.Of("say.more_why", ("why", more.Why));
        var cost = new LineCost(row.Group.Lines == 0 ? 0 : (double)row.Group.Counts.Nests / row.Group.Lines, IntactAtFirstCheck: row.Group.Day14.Value ?? 1, Days: trial.Days);
        return Phrase.Of("say.more_lines", ("lines", more.Value), ("nests", cost.NestsOf(more.Value)), ("eggs", cost.EggsOf(more.Value)), ("days", trial.Days));
    }

    private static string Known(string cause) => cause is "spoiled_in_place" or "spoiled" ? "spoiled" : cause is "crew" or "person" or "moved" ? cause : "other";
}
