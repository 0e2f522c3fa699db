using System.Collections.Immutable;
using Tussock.Planning.Power;
using Tussock.Verdicts;

namespace Tussock.Planning.Practice;

/// <summary>One benchmark of an opened season: the truth, what was concluded, and what the program says of the same records.</summary>
/// <param name="IsAbove">Whether the truth is at the benchmark or above.</param>
/// <param name="Said">What was concluded.</param>
/// <param name="Program">The program's call.</param>
/// <param name="ProgramChance">The program's chance of the benchmark or above; null where it has none.</param>
public sealed record BenchmarkOpened(bool IsAbove, Conclusion Said, CallKind Program, double? ProgramChance)
{
    /// <summary>What became of the conclusion.</summary>
    public ConclusionEnd End => Conclusion.EndOf(Said.Side, IsAbove);

    /// <summary>What became of the program's call.</summary>
    public ConclusionEnd ProgramEnd => Conclusion.EndOf(Program, IsAbove);

    /// <summary>What the conclusion's percent was worth, 0 to 100, less is better.</summary>
    public double Penalty => Conclusion.Penalty(Said.ChanceAbove, IsAbove);

    /// <summary>The same of the program's chance.</summary>
    public double? ProgramPenalty => ProgramChance is { } p ? Conclusion.Penalty(p, IsAbove) : null;
}

/// <summary>A season for practice with its truth told: was the conclusion right, was the program, and how often would such a season have been wrong?</summary>
/// <remarks>Same season and conclusions, same bits. May be shared between threads.</remarks>
public sealed record PracticeOpened
{
    /// <summary>The season.</summary>
    public required PracticeSeason Season { get; init; }

    /// <summary>Survival.</summary>
    public required BenchmarkOpened Survival { get; init; }

    /// <summary>Clump density; null where no belts were walked or nothing was concluded.</summary>
    public required BenchmarkOpened? Density { get; init; }

    /// <summary>Counted share and its limits; null where there are none.</summary>
    public required (double Value, double Low, double High)? Share { get; init; }

    /// <summary>Whether belts were walked: then verdicts are counted beside the calls on survival.</summary>
    public bool HasVerdicts => Season.Design.HasBelts;

    /// <summary>The verdict that the truth would get.</summary>
    public VerdictKind TrueVerdict => Verdict.KindOf(Side(Season.Truth.Survival >= Season.Question.SurvivalBenchmark), Side(Season.Truth.PerAcre >= Season.Question.DensityBenchmark));

    /// <summary>Tells the truth about the walked season, and asks the program about the same records.</summary>
    /// <param name="season">The season.</param>
    /// <param name="survival">What was concluded about survival.</param>
    /// <param name="density">What was concluded about density; null: nothing.</param>
    public static PracticeOpened Of(PracticeSeason season, Conclusion survival, Conclusion? density)
    {
        ArgumentNullException.ThrowIfNull(season);
        var question = season.Question;
        // The walked season is the first of the seasons by which the design is judged.
        var walked = JudgedSeasons.Of(question, question.Design, 1, season.Design.HasBelts ? SeasonParts.All : SeasonParts.Share | SeasonParts.Survival)[0];
        return new PracticeOpened
        {
            Season = season,
            Survival = new BenchmarkOpened(season.Truth.Survival >= question.SurvivalBenchmark, survival, walked.Survival, Known(walked.SurvivalChance)),
            Density = season.Design.HasBelts && density is not null ? new BenchmarkOpened(season.Truth.PerAcre >= question.DensityBenchmark, density, walked.Density, Known(walked.DensityChance)) : null,
            Share = double.IsNaN(walked.Share.Low) ? null : walked.Share,
        };
    }

    /// <summary>How often seasons of this truth would have been told what: with this design, and with twice its lines.</summary>
    /// <param name="done">Told the share done, from any thread; may be null.</param>
    /// <param name="cancel">Stops between seasons.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public ImmutableArray<CallRates> Rates(Action<double>? done = null, CancellationToken cancel = default)
    {
        var (question, count) = (Season.Question, 0);
        Action told = () => done?.Invoke((double)Interlocked.Increment(ref count) / (2 * PracticeSeason.Others));
        return [CallRates.Of(question, Season.Design.Judged, PracticeSeason.Others, told, cancel), CallRates.Of(question, Season.Design.Doubled, PracticeSeason.Others, told, cancel)];
    }

    /// <summary>The calls that this design gets at other truths, for a picture.</summary>
    /// <param name="cancel">Stops between seasons.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public PowerAnswer WithCurves(CancellationToken cancel = default) => PowerAnswer.Of(Season.Question, new PowerExtras { Curves = true }, null, cancel);

    /// <summary>Share of seasons with a wrong verdict where belts were walked, else with survival called on the wrong side.</summary>
    public double WrongOf(CallRates rates)
    {
        ArgumentNullException.ThrowIfNull(rates);
        return HasVerdicts ? rates.Clear - rates.Verdicts[(int)TrueVerdict] : rates.SurvivalWrong;
    }

    private static double? Known(double chance) => double.IsNaN(chance) ? null : chance;

    private static CallKind Side(bool isAbove) => isAbove ? CallKind.Likely : CallKind.Unlikely;
}
