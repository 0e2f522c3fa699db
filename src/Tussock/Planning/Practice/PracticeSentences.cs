using System.Collections.Immutable;
using Tussock.Planning.Power;
using Tussock.Verdicts;

namespace Tussock.Planning.Practice;

/// <summary>What a season for practice says, in sentences; command line and desk say the same.</summary>
public static class PracticeSentences
{
    private const int FewSeasons = 10;

    /// <summary>What is asked, before the truth is told.</summary>
    public static IEnumerable<Phrase> Task(PracticeSeason season)
    {
        ArgumentNullException.ThrowIfNull(season);
        var design = season.Design;
        yield return Phrase.Of(design.HasBelts ? "student.walked_belts" : "student.walked", ("lines", design.Lines), ("nests", design.Nests), ("all", design.Lines * design.Nests), ("first", design.FirstCheck), ("last", design.Trial.Days));
        yield return Phrase.Of("student.not_happened");
        if (design.Lines < Calls.FewestLines) yield return Phrase.Of("power.never_called", ("lines", design.Lines), ("fewest", Calls.FewestLines));
        yield return Phrase.Of("student.asked", ("benchmark", season.Question.SurvivalBenchmark));
        if (design.HasBelts) yield return Phrase.Of("student.asked_density", ("benchmark", season.Question.DensityBenchmark));
    }

    /// <summary>The truth, and what became of the conclusions.</summary>
    public static IEnumerable<Phrase> Opened(PracticeOpened opened)
    {
        ArgumentNullException.ThrowIfNull(opened);
        var (question, truth) = (opened.Season.Question, opened.Season.Truth);
        yield return Phrase.Of("student.truth", ("survival", truth.Survival), ("benchmark", question.SurvivalBenchmark), ("sd", truth.LineSd));
        if (opened.Share is { } share) yield return Phrase.Of(share.Low <= truth.Survival && truth.Survival <= share.High ? "student.share_holds" : "student.share_misses", ("share", share.Value), ("low", share.Low), ("high", share.High));
        yield return Phrase.Of("student.truth_lost_sight", ("early", truth.EarlyShare), ("first", question.Trial.FirstCheck), ("not_found", truth.NotRelocated), ("gone", truth.LostNotRelocated), ("late", truth.LateDays));
        yield return Phrase.Of("student.truth_culprits", ("culprits", Listed(opened.Season)));
        foreach (var said in Benchmark(opened.Survival, "student.of_survival")) yield return said;
        if (!opened.HasVerdicts) yield break;
        yield return Phrase.Of("student.truth_density", ("density", truth.PerAcre), ("benchmark", question.DensityBenchmark), ("cv", truth.DensityCv));
        if (opened.Density is { } density) foreach (var said in Benchmark(density, "student.of_density")) yield return said;
        yield return Phrase.Of("student.truth_verdict", ("verdict", Phrase.Of("verdict.words." + Verdict.TokenOf(opened.TrueVerdict))));
    }

    /// <summary>How often such seasons are wrong.</summary>
    public static IEnumerable<Phrase> Errors(PracticeOpened opened, ImmutableArray<CallRates> rates)
    {
        ArgumentNullException.ThrowIfNull(opened);
        yield return Phrase.Of("student.errors_head", ("seasons", PracticeSeason.Others), ("error", rates[0].LargestChanceError));
        foreach (var one in rates)
        {
            var wrong = opened.WrongOf(one);
            yield return Phrase.Of("student.errors", ("lines", one.Design.Lines), ("nests", one.Design.Nests), ("right", one.Clear - wrong), ("wrong", wrong), ("open", one.NotEnough));
        }

        if (rates[0].NaiveWrong is { } naive) yield return Phrase.Of("student.errors_naive", ("naive", naive), ("benchmark", opened.Season.Question.SurvivalBenchmark));
        yield return Phrase.Of(opened.HasVerdicts ? "student.errors_of_verdicts" : "student.errors_of_survival");
    }

    /// <summary>What the seasons so far add up to.</summary>
    public static IEnumerable<Phrase> Tally(PracticeTally tally)
    {
        ArgumentNullException.ThrowIfNull(tally);
        yield return Phrase.Of("student.tally", ("seasons", tally.Seasons), ("right", tally.Right), ("wrong", tally.Wrong), ("open", tally.Open));
        yield return Phrase.Of("student.tally_program", ("right", tally.ProgramRight), ("wrong", tally.ProgramWrong), ("open", tally.Seasons - tally.ProgramRight - tally.ProgramWrong));
        yield return tally.ProgramPenalty is { } program ? Phrase.Of("student.tally_penalty", ("mine", tally.Penalty), ("program", program)) : Phrase.Of("student.tally_penalty_mine", ("mine", tally.Penalty));
        if (tally.Sure is { } sure) yield return Phrase.Of("student.tally_sure", ("sure", sure), ("was", tally.SideWas), ("seasons", tally.Favoured));
        if (tally.Seasons < FewSeasons) yield return Phrase.Of("student.tally_few", ("fewest", FewSeasons));
    }

    private static IEnumerable<Phrase> Benchmark(BenchmarkOpened one, string what)
    {
        yield return Phrase.Of(one.End switch { ConclusionEnd.Right => "student.you_right", ConclusionEnd.Wrong => "student.you_wrong", _ => "student.you_open" }, ("what", Phrase.Of(what)), ("side", one.Said.InWords), ("percent", one.Said.Percent), ("penalty", one.Penalty));
        var end = Phrase.Of(one.ProgramEnd switch { ConclusionEnd.Right => "student.end.right", ConclusionEnd.Wrong => "student.end.wrong", _ => "student.end.open" });
        yield return one is { ProgramChance: { } chance, ProgramPenalty: { } penalty }
            ? Phrase.Of("student.program", ("side", Conclusion.SideInWords(one.Program)), ("end", end), ("chance", chance), ("penalty", penalty))
            : Phrase.Of("student.program_none");
    }

    /// <summary>Classes by how common they are, the commonest first, in whole percents.</summary>
    private static Phrase[] Listed(PracticeSeason season) =>
        [.. season.Culprits.Select((share, k) => (share, Token: PracticeSeason.CulpritTokens[k])).OrderByDescending(c => c.share).Select(c => Phrase.Of("student.culprit", ("culprit", Phrase.Of("signs.culprit." + c.Token)), ("share", c.share)))];
}
