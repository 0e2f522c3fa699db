using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Which intervals are counted together when fit and counts are compared.</summary>
public enum DevianceCells
{
    /// <summary>Those of a group: do lines differ more than the effects and chance explain?</summary>
    Group,

    /// <summary>Those of a class of fitted risk: do safe and endangered nests fare as the effects say?</summary>
    Risk,
}

/// <summary>How a check of fit is run.</summary>
public sealed record DevianceOptions
{
    /// <summary>Columns to use, as in <see cref="EffectsOptions"/>; null: all.</summary>
    public ImmutableArray<string>? Columns { get; init; }

    /// <summary>What is counted together.</summary>
    public DevianceCells Cells { get; init; } = DevianceCells.Group;

    /// <summary>Invented seasons, ≥ 19.</summary>
    public int Replicates { get; init; } = 499;

    /// <summary>Seed; the same seed gives the same bits on any number of threads.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Classes of risk.</summary>
    public int RiskClasses { get; init; } = 10;

    /// <summary>Told the share of invented seasons done, from any thread; null: nobody.</summary>
    public Action<double>? Progress { get; init; }
}

/// <summary>Grouped deviance of a fit beside those of seasons invented from it.</summary>
/// <param name="Deviance">2Σ[O·log(O/E) + (n − O)·log((n − O)/(n − E))] over cells, ≥ 0.</param>
/// <param name="Mean">Mean over invented seasons.</param>
/// <param name="Cells">Number of cells.</param>
/// <param name="Replicates">Invented seasons.</param>
/// <param name="P">(1 + number of invented seasons with a deviance at least as large)/(1 + replicates): small speaks against the fit.</param>
/// <param name="PError">Monte-Carlo standard error of P.</param>
public sealed record GroupedDeviance(double Deviance, double Mean, int Cells, int Replicates, double P, double PError)
{
    /// <summary>Do the counts of losses agree with the fit?</summary>
    /// <param name="rows">Visit intervals; camera times are not used.</param>
    /// <param name="link">How effects act.</param>
    /// <param name="options">Columns, cells, replicates, seed; null: the usual ones.</param>
    /// <param name="cancel">Stops between invented seasons.</param>
    /// <returns>The deviance with its parametric-bootstrap p; a reason when nothing or everything was lost, or when there is no fit.</returns>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than 19 replicates.</exception>
    /// <remarks>
    /// Each interval that was watched is lost anew with the fitted chance 1 − e^(−H), the model is fitted again, and its deviance taken. Intervals stay as they were: a nest that is "lost" earlier in an invented season keeps its later
    /// intervals, as rows of a regression do. A χ² distribution is not used because cells are small and share the effects. Parallel over invented seasons; each has a stream of its own.
    /// </remarks>
    /// <source>Davison and Hinkley 1997, Bootstrap Methods and their Application, section 4.2 (parametric bootstrap test); from memory, to be confirmed. Cells: common practice, no source.</source>
    /// <check>interval-residuals</check>
    public static Answer<GroupedDeviance> Of(VisitRows rows, Link link, DevianceOptions? options = null, CancellationToken cancel = default)
    {
        options ??= new DevianceOptions();
        return OfEach(rows, link, options, [options.Cells], cancel).Then(d => d[0]);
    }

    /// <summary>The same in several ways to count together, on the same invented seasons.</summary>
    internal static Answer<GroupedDeviance[]> OfEach(VisitRows rows, Link link, DevianceOptions options, DevianceCells[] ways, CancellationToken cancel)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(options.Replicates, 19);
        var lost = rows.Lost.Count(l => l);
        if (lost == 0 || lost == rows.Count) return NoAnswer.Because(lost == 0 ? "models.nothing_lost" : "models.everything_lost");
        var fit = EffectsFit.Of(rows.Table(), link, new EffectsOptions { Columns = options.Columns });
        if (!fit.HasValue) return new NoAnswer(fit.Why);
        var season = new InventedSeasons(rows, fit.Value, options);
        var invented = new double[options.Replicates][];
        var done = 0;
        Ordered.For(
            invented.Length,
            r =>
            {
                invented[r] = season.Invented(r, ways);
                options.Progress?.Invoke((double)Interlocked.Increment(ref done) / invented.Length);
            },
            cancel);
        return ways.Select((by, way) => Beside(season.Observed(by), [.. invented.Select(d => d[way])])).ToArray();
    }

    private static GroupedDeviance Beside((double Deviance, int Cells) own, double[] invented)
    {
        var above = invented.Count(d => d >= own.Deviance - 1e-9 * (1 + own.Deviance));
        var p = (1.0 + above) / (1 + invented.Length);
        return new GroupedDeviance(own.Deviance, invented.Average(), own.Cells, invented.Length, p, Math.Sqrt(p * (1 - p) / invented.Length));
    }
}
