using Tussock.Verdicts;

namespace Tussock.Planning.Power;

/// <summary>What an answer about a design says, in sentences; command line and desk say the same.</summary>
public static class PowerSentences
{
    /// <summary>What was asked and how it is judged.</summary>
    public static IEnumerable<Phrase> Head(PowerAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        var (question, formula, judged) = (answer.Question, answer.Formula, answer.Question.Judged);
        yield return Phrase.Of("power.head", ("lines", judged.Lines), ("nests", judged.Nests), ("all", judged.Lines * judged.Nests), ("survival", question.Truth.Survival), ("sd", question.Truth.LineSd),
            ("rho", formula.Correlation), ("effective", formula.EffectiveNests));
        if (question.HasDensity) yield return Phrase.Of("power.head_density", ("density", question.Truth.PerAcre), ("cv", question.Truth.DensityCv), ("benchmark", question.DensityBenchmark));
        if (question.Pastures > 1) yield return Phrase.Of(question.JudgedBy == JudgedBy.Pasture ? "power.judged_pasture" : "power.judged_property", ("pastures", question.Pastures), ("lines", question.Design.Lines));
        if (judged.Lines < Calls.FewestLines) yield return Phrase.Of("power.never_called", ("lines", judged.Lines), ("fewest", Calls.FewestLines));
        yield return Phrase.Of("power.seasons", ("seasons", answer.Rates.Seasons), ("seed", question.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture)), ("error", answer.Rates.LargestChanceError));
    }

    /// <summary>What would settle it, what could be seen, what cameras it takes, and how far to trust all that.</summary>
    public static IEnumerable<Phrase> Rest(PowerAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        var (question, rates) = (answer.Question, answer.Rates);
        if (rates.NaiveWrong is { } naive && question.Truth.Survival != question.SurvivalBenchmark)
            yield return Phrase.Of("power.wrong_side", ("wrong", rates.SurvivalWrong), ("naive", naive), ("benchmark", question.SurvivalBenchmark));
        yield return answer.NeededByFormula is { } lines
            ? Phrase.Of("power.needed_formula", ("lines", lines), ("nests", question.Design.Nests), ("all", lines * question.Design.Nests))
            : Phrase.Of("power.no_number_formula", ("lines", NeededLines.Most), ("nests", question.Design.Nests));
        if (answer.Needed is { } needed)
        {
            yield return needed.HasValue
                ? Phrase.Of("power.needed", ("lines", needed.Value.Lines), ("nests", question.Design.Nests), ("all", needed.Value.Nests), ("chance", needed.Value.Chance))
                : needed.Why;
        }

        if (answer.Pastures is { } two)
            yield return Phrase.Of("power.two_pastures", ("survival", question.Truth.Survival), ("other", two.Other), ("independent", Math.Ceiling(two.Independent)), ("nests", Math.Ceiling(two.Nests)), ("lines", two.Lines));
        yield return Cover(answer);
        yield return answer.Cameras.Why ?? Phrase.Of("power.cameras", ("losses", answer.Cameras.Value.Losses), ("formula", Math.Ceiling(answer.Cameras.Value.LossesByFormula)), ("cameras", answer.Cameras.Value.Cameras));
        yield return Phrase.Of("power.caution");
    }

    /// <summary>Which of the designs of about as many nests is the clearest.</summary>
    public static Phrase? BestDesign(PowerAnswer answer)
    {
        ArgumentNullException.ThrowIfNull(answer);
        if (answer.Designs.Length < 2) return null;
        var best = answer.Designs.MaxBy(d => d.Rates.Clear)!.Rates;
        return Phrase.Of("power.designs_best", ("lines", best.Design.Lines), ("nests", best.Design.Nests), ("chance", best.Clear));
    }

    private static Phrase Cover(PowerAnswer answer)
    {
        if (!answer.Cover.HasValue) return answer.Cover.Why;
        var cover = answer.Cover.Value;
        var (reference, other) = (answer.Question.Truth with { CoverRatio = cover.Ratio }).ByCover;
        return cover is { ChanceByFormula: { } chance, NestsByFormula: { } nests }
            ? Phrase.Of("power.cover", ("ratio", cover.Ratio), ("reference", reference), ("other", other), ("seen", cover.Seen), ("formula", chance), ("nests", Math.Ceiling(nests)))
            : Phrase.Of("power.cover_none", ("seen", cover.Seen + cover.Opposite));
    }
}
