using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>How a model is held against the season it was fitted to.</summary>
public sealed record FitCheckOptions
{
    /// <summary>Seasons made by the model, ≥ 19.</summary>
    public int Resamples { get; init; } = 999;

    /// <summary>Seed; the same seed gives the same bits on any number of threads.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Told the share of the work done, from any thread; null: nobody.</summary>
    public Action<double>? Progress { get; init; }

    /// <summary>Stops between made seasons.</summary>
    public CancellationToken Cancel { get; init; }
}

/// <summary>Does a model without groups agree with the season it was fitted to: by line, by class of fitted risk, and where not?</summary>
/// <remarks>
/// Rests on visit intervals alone (<see cref="ModelDesign.Visits"/>), so the effects are fitted to them again. Both deviances are those of <see cref="GroupedDeviance"/>, the residuals those of
/// <see cref="IntervalResidual"/>. May be shared between threads.
/// </remarks>
public sealed class FitCheck
{
    /// <summary>A standardised residual beyond this, either way, stands out.</summary>
    public const double Beyond = 2;

    /// <summary>Lines that are named at most, those furthest out first.</summary>
    public const int MostNamed = 10;

    /// <summary>Share of a standard normal beyond 2 on both sides.</summary>
    private const double ChanceBeyond = 0.0455;

    /// <summary>A mean deviance below this says that every made season is fitted exactly.</summary>
    private const double Nothing = 1e-6;

    private FitCheck(VisitRows rows, FitCheckOptions options) => (Intervals, Losses, Options) = (rows.Count, rows.Lost.Count(l => l), options);

    /// <summary>How it was made.</summary>
    public FitCheckOptions Options { get; }

    /// <summary>Visit intervals it rests on.</summary>
    public int Intervals { get; }

    /// <summary>Losses that a visit found.</summary>
    public int Losses { get; }

    /// <summary>Do lines differ more than the effects and chance explain? A reason with fewer than two lines, and where nothing or everything was lost.</summary>
    public required Answer<GroupedDeviance> ByLine { get; init; }

    /// <summary>Do safe and endangered intervals fare as the effects say? A reason where there are no more classes than numbers fitted.</summary>
    public required Answer<GroupedDeviance> ByRisk { get; init; }

    /// <summary>Losses seen and expected by class of the fitted chance of loss between two visits, the lowest first; empty where there is no fit.</summary>
    public required ImmutableArray<IntervalResidual> RiskClasses { get; init; }

    /// <summary>Losses seen and expected by line; empty where there is no fit.</summary>
    public required ImmutableArray<IntervalResidual> Lines { get; init; }

    /// <summary>Lines whose standardised residual lies beyond 2 on either side, the furthest first.</summary>
    public ImmutableArray<IntervalResidual> OutlyingLines => [.. Lines.Where(l => l.Standardised is { } z && Math.Abs(z) > Beyond).OrderByDescending(l => Math.Abs(l.Standardised!.Value))];

    /// <summary>Lines that lie beyond 2 by chance where the model holds, on average.</summary>
    public double OutlyingByChance => ChanceBeyond * Lines.Count(l => l.Standardised is not null);

    /// <summary>Holds a model against its season.</summary>
    /// <param name="rows">Visit intervals, groups the lines.</param>
    /// <param name="link">How effects act.</param>
    /// <param name="options">Made seasons, seed; null: the usual ones.</param>
    /// <returns>The check; each part that can't be had says why.</returns>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    /// <source>Davison and Hinkley 1997, Bootstrap Methods and their Application, section 4.2; Hosmer and Lemeshow 1980, Communications in Statistics A9, 1043–1069; both from memory, to be confirmed</source>
    /// <check>interval-residuals</check>
    public static FitCheck Of(VisitRows rows, Link link, FitCheckOptions? options = null)
    {
        options ??= new FitCheckOptions();
        var deviance = new DevianceOptions { Replicates = options.Resamples, Seed = options.Seed, Progress = options.Progress };
        var both = GroupedDeviance.OfEach(rows, link, deviance, [DevianceCells.Group, DevianceCells.Risk], options.Cancel);
        if (!both.HasValue) return new FitCheck(rows, options) { ByLine = new NoAnswer(both.Why), ByRisk = new NoAnswer(both.Why), RiskClasses = [], Lines = [] };
        var fit = EffectsFit.Of(rows.Table(), link).Value;
        var (byLine, byRisk) = (both.Value[0], both.Value[1]);
        return new FitCheck(rows, options)
        {
            ByLine = byLine.Cells < 2 ? NoAnswer.Because("fit_check.one_line") : Telling(byLine),
            ByRisk = byRisk.Cells <= fit.Parameters ? TooFewClasses(byRisk, fit.Parameters) : Telling(byRisk),
            RiskClasses = IntervalResidual.Of(rows, fit, DevianceCells.Risk),
            Lines = IntervalResidual.Of(rows, fit, DevianceCells.Group),
        };
    }

    private static NoAnswer TooFewClasses(GroupedDeviance found, int parameters) => NoAnswer.Because("fit_check.too_few_classes", ("classes", found.Cells), ("parameters", parameters));

    private static Answer<GroupedDeviance> Telling(GroupedDeviance found) => found.Mean < Nothing ? NoAnswer.Because("fit_check.fits_exactly") : found;
}
