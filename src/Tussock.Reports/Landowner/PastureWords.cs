using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Measures;
using Tussock.Pictures;
using Tussock.Results;
using Tussock.Verdicts;
using Tussock.Words;

namespace Tussock.Reports.Landowner;

/// <summary>The sentences of one judged pasture or property, in a landowner's words.</summary>
internal sealed class PastureWords(ReportVerdict verdict, SeasonResults results, Catalogue words)
{
    private readonly GroupResults group = verdict.Row.Group;

    /// <summary>The days of the trial as people say them: "four weeks".</summary>
    internal static Phrase Duration(double days) => days switch
    {
        28 => Phrase.Of("report.four_weeks"),
        14 => Phrase.Of("report.two_weeks"),
        _ => Phrase.Of("report.days", ("days", days)),
    };

    internal string Name => verdict.Row.Pasture?.Name ?? verdict.Row.Property;

    /// <summary>How sure the verdict is, in as few words as can be.</summary>
    internal Phrase Doubt => verdict switch
    {
        { Certainty: { } sure } => Phrase.Of("report.sure", ("chance", Sentences.ChanceInWords(sure))),
        { Row.Verdict.Survival: { IsMade: false, LeaningChance: { } chance } call } => Phrase.Of(call.Leaning == Leaning.Above ? "report.leans_above" : "report.leans_below", ("benchmark", Benchmark), ("chance", chance)),
        { Row.Verdict.Survival: { IsMade: true, Chance: { } c } call } => Phrase.Of(call.Kind == CallKind.Likely ? "report.survival_only_above" : "report.survival_only_below", ("benchmark", Benchmark), ("chance", Sentences.ChanceInWords(Math.Max(c, 1 - c)))),
        _ => Phrase.Of("report.leans_neither"),
    };

    /// <summary>The two chances behind the verdict, as one sentence.</summary>
    internal Phrase Chances => (group.ChanceAtLeastBenchmark, verdict.Row.Density.ChanceAtLeastBenchmark) switch
    {
        ({ HasValue: true } s, { HasValue: true } d) => Phrase.Of("report.both_chances", ("benchmark", Benchmark), ("survival", Sentences.ChanceInWords(s.Value)), ("clumps", ClumpsBenchmark), ("density", Sentences.ChanceInWords(d.Value))),
        ({ HasValue: true } s, _) => Phrase.Of("report.survival_chance", ("benchmark", Benchmark), ("survival", Sentences.ChanceInWords(s.Value))),
        _ => Phrase.Of("report.no_chance", ("why", group.ChanceAtLeastBenchmark.Why ?? Phrase.Of("report.no_chance_why"))),
    };

    /// <summary>"24 simulated nests; 13 still whole after four weeks".</summary>
    internal Phrase Count => Phrase.Of("report.count", ("nests", group.Counts.Nests), ("whole", group.Counts.Intact), ("time", Duration(results.Trial.Days)));

    /// <summary>What comes right after the count where losses other than to predators lead; empty otherwise.</summary>
    internal IEnumerable<Phrase> OtherLossesFirst => verdict.OthersLead ? verdict.Row.Verdict.Because.TakeWhile(b => b.Key == "verdict.lost_to" || b.Key.StartsWith("happened.", StringComparison.Ordinal)) : [];

    internal LossSplitCounts Losses
    {
        get
        {
            var by = verdict.Row.Verdict.Losses.ByCause;
            var (eaten, trampled, unwritten) = (by.GetValueOrDefault(Cause.Depredated), by.GetValueOrDefault(Cause.Trampled), by.GetValueOrDefault(Cause.NotRecorded));
            return new LossSplitCounts(eaten, trampled, verdict.Row.Verdict.Losses.All - eaten - trampled - unwritten, unwritten);
        }
    }

    /// <summary>"Lost: 7 trampled (35 %), 5 eaten (25 %)", shares of the nests of known fate, the most first.</summary>
    internal Phrase LossesInWords
    {
        get
        {
            var (losses, known) = (Losses, group.Counts.FateKnown);
            if (losses.All == 0) return Phrase.Of("report.no_losses");
            (string Key, int Count)[] parts = [("pictures.eaten", losses.Eaten), ("pictures.trampled", losses.Trampled), ("pictures.other_loss", losses.Other), ("pictures.not_recorded", losses.NotRecorded)];
            var said = parts.Where(p => p.Count > 0).OrderByDescending(p => p.Count).Select(p => words.Say(Phrase.Of("report.loss_part", ("count", p.Count), ("how", Phrase.Of(p.Key)), ("share", (double)p.Count / known))));
            return Phrase.Of("report.losses", ("count", losses.All), ("parts", string.Join(", ", said)));
        }
    }

    /// <summary>Nests of unknown fate and how many of them could not be found; null when all are known.</summary>
    internal Phrase? NotKnown => Open("report.not_known", "report.not_known_all_found");

    /// <summary>The same in a table's cell.</summary>
    internal Phrase? NotKnownShort => Open("report.not_known_short", "report.not_known_all_found_short");

    /// <summary>The headline number and its range: the share counted, or what the visits say where none can be counted.</summary>
    internal string Number => (group.Day28.Value ?? group.TwoPieceDay28.Value) is { } share ? Numbers.Percent(share) : "–";

    internal Phrase NumberInWords => (group.Day28.Value, verdict.FirstInterval) switch
    {
        ({ }, { Low: { } low, High: { } high }) => Phrase.Of("report.number", ("known", group.Counts.FateKnown), ("range", Numbers.PercentRange(low, high))),
        ({ }, _) => Phrase.Of("report.number_alone", ("known", group.Counts.FateKnown)),
        (null, { Value: { }, Low: { } low, High: { } high }) => Phrase.Of("report.number_visits", ("range", Numbers.PercentRange(low, high))),
        (null, { Value: { } }) => Phrase.Of("report.number_visits_alone"),
        _ => Phrase.Of("report.no_number", ("why", group.Day28.Why ?? Phrase.Of("report.no_chance_why"))),
    };

    /// <summary>The range in a table's cell.</summary>
    internal Phrase NumberShort => (group.Day28.Value, verdict.FirstInterval) switch
    {
        ({ }, { Low: { } low, High: { } high }) => Phrase.Of("report.number_short", ("known", group.Counts.FateKnown), ("range", Numbers.PercentRange(low, high))),
        (null, { Value: { }, Low: { } low, High: { } high }) => Phrase.Of("report.number_visits_short", ("range", Numbers.PercentRange(low, high))),
        _ => NumberInWords,
    };

    /// <summary>Why there are two numbers; empty where there is one.</summary>
    internal IEnumerable<Phrase> WhyTwoNumbers()
    {
        if (group.Day28 is { Value: not null, Low: { } low, High: { } high } && !ReferenceEquals(verdict.FirstInterval, group.Day28)) yield return Phrase.Of("report.two_ranges", ("lines", group.Lines), ("range", Numbers.PercentRange(low, high)));
        if (group.Day28.Value is null && group.TwoPieceDay28.Value is not null) yield return Phrase.Of("report.two_why", ("why", group.Day28.Why!));
        if (group is { Day28.Value: not null, WhyTwoPieceBeside: { } why, TwoPieceDay28.Value: { } visits }) yield return Phrase.Of("report.two_visits", ("visits", visits), ("why", why));
    }

    /// <summary>Clumps an acre and a hectare against the benchmark.</summary>
    internal Phrase Cover => verdict.Row.Density.PerAcre switch
    {
        { Value: { } v, Low: { } low, High: { } high } => Phrase.Of("report.cover", ("acre", v), ("range", Numbers.Fixed(low, 0) + "–" + Numbers.Fixed(high, 0)), ("hectare", verdict.Row.Density.PerHa.Value ?? 0), ("benchmark", ClumpsBenchmark), ("benchmark_ha", Area.PerHectareFromPerAcre(ClumpsBenchmark))),
        { Value: { } v } => Phrase.Of("report.cover_alone", ("acre", v), ("hectare", verdict.Row.Density.PerHa.Value ?? 0), ("benchmark", ClumpsBenchmark), ("benchmark_ha", Area.PerHectareFromPerAcre(ClumpsBenchmark))),
        _ => Phrase.Of("report.no_cover", ("benchmark", ClumpsBenchmark)),
    };

    /// <summary>The cover in a table's cell.</summary>
    internal Phrase CoverShort => verdict.Row.Density.PerAcre.Value is { } v ? Phrase.Of("report.cover_short", ("acre", v), ("hectare", verdict.Row.Density.PerHa.Value ?? 0), ("benchmark", ClumpsBenchmark)) : Phrase.Of("report.no_cover_short");

    /// <summary>What would settle it and what that costs; that it is settled where it is.</summary>
    internal IEnumerable<Phrase> Settling()
    {
        var said = verdict.Row.Verdict;
        if (!said.Survival.IsMade && said.Survival.Why is { Key: "verdict.not_found_decide" or "verdict.unknown_decide" } decides) yield return decides;
        else if (Sentences.MoreLines(verdict.Row, results.Trial) is { } more) yield return more;
        if (!said.Density.IsMade)
        {
            foreach (var because in said.Because.Where(b => b.Key.StartsWith("verdict.density.none", StringComparison.Ordinal) || b.Key is "verdict.density.more_lines" or "verdict.density.too_near")) yield return because;
        }

        if (said is { Survival.IsMade: true, Density.IsMade: true }) yield return Phrase.Of("report.settled");
    }

    /// <summary>The same in a table's cell.</summary>
    internal IEnumerable<Phrase> SettlingShort() => Settling().Take(2).Select(p => p.Key == "report.settled" ? Phrase.Of("report.settled_short") : p);

    /// <summary>What another set of nests might have shown; null where nothing can be said.</summary>
    internal Phrase? Another => verdict.Another.HasValue
        ? Phrase.Of("report.another", ("nests", ReportNumbers.AnotherNests), ("lines", ReportNumbers.AnotherLines), ("low", verdict.Another.Value.Point(0.1)), ("high", verdict.Another.Value.Point(0.9)))
        : null;

    internal Phrase? AnotherShort => verdict.Another.HasValue ? Phrase.Of("report.another_short", ("low", verdict.Another.Value.Point(0.1)), ("high", verdict.Another.Value.Point(0.9))) : null;

    /// <summary>Who came, from cameras alone, and only with enough losses that they saw.</summary>
    internal Phrase Cameras
    {
        get
        {
            var seen = verdict.ConfirmedLosses;
            if (seen == 0) return Phrase.Of("report.cameras_none");
            if (seen < Evidence.Composition.FewestConfirmed || verdict.OthersLead) return Phrase.Of("report.cameras_few", ("losses", seen));
            var list = verdict.Confirmed.Select(c => words.Say(Phrase.Of("report.culprit_count", ("culprit", CulpritName(c.Culprit)), ("losses", c.Losses))));
            var all = verdict.Row.Verdict.Losses.All;
            return seen < all ? Phrase.Of("report.cameras", ("losses", seen), ("all", all), ("list", string.Join(", ", list))) : Phrase.Of("report.cameras_all", ("losses", seen), ("list", string.Join(", ", list)));
        }
    }

    /// <summary>The verdict in a careful sentence beyond the calls; null where it speaks of what this page must not.</summary>
    internal Phrase? May(bool isSilentOnPredators) => verdict.Row.Verdict.Because.LastOrDefault() is { } last && last.Key.StartsWith("verdict.may.", StringComparison.Ordinal) && !(isSilentOnPredators && Speaks(last)) ? last : null;

    /// <summary>Advice in order of caution.</summary>
    internal ImmutableArray<Phrase> Advice(bool isSilentOnPredators) => [.. verdict.Row.Verdict.Advice.Where(a => !(isSilentOnPredators && Speaks(a)))];

    internal static Phrase CulpritName(string token) => Catalogue.English.Has("signs.culprit." + token) ? Phrase.Of("signs.culprit." + token) : Phrase.Of("report.as_written", ("text", token.Replace('_', ' ')));

    /// <summary>Whether a sentence speaks of predators; where trampling leads, a page has no such word.</summary>
    private bool Speaks(Phrase phrase) => words.Template(phrase.Key).Contains("redator", StringComparison.Ordinal) || phrase.Key is "advice.weak_ground" or "advice.cameras";

    private Phrase? Open(string key, string allFound)
    {
        var notFound = group.Fates.Count(f => f.IsNotRelocated && f.Day28 == FateAt.Unknown);
        if (group.Counts.Unknown == 0) return null;
        return notFound == 0 ? Phrase.Of(allFound, ("count", group.Counts.Unknown)) : Phrase.Of(key, ("count", group.Counts.Unknown), ("found", notFound));
    }

    private double Benchmark => results.Season.Settings.SurvivalBenchmark;

    private double ClumpsBenchmark => results.Season.Settings.ClumpsPerAcreBenchmark;
}
