using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>A model of daily loss with fixed effects, fitted to visit intervals by maximum likelihood.</summary>
/// <remarks>May be shared between threads; arrays must not be changed by readers.</remarks>
public sealed class EffectsFit
{
    private readonly Lazy<PriorFit> prior;

    internal EffectsFit(ModelTable table, Link link, EffectsOptions options, EffectsMaximum maximum, EffectsSpread spread)
    {
        (Table, Link, Options, Maximum) = (table, link, options, maximum);
        (Clustered, Independent, Clusters) = (spread.Clustered, spread.Independent, spread.Clusters);
        (Coefficients, Warnings) = (EffectsTable.Coefficients(this), EffectsTable.Warnings(this));
        Aicc = InformationCriterion.Aicc(LogLikelihood, Parameters, table.Intervals);
        prior = new Lazy<PriorFit>(() => PriorFit.Of(this));
    }

    /// <summary>The table it was fitted to.</summary>
    public ModelTable Table { get; }

    /// <summary>How effects act.</summary>
    public Link Link { get; }

    /// <summary>The choices it was fitted with.</summary>
    public EffectsOptions Options { get; }

    /// <summary>One a chosen column, in the order of the table.</summary>
    public ImmutableArray<EffectCoefficient> Coefficients { get; }

    /// <summary>Log-likelihood without constants: chances of losses, densities a day of timed ones. Its supremum under separation.</summary>
    public double LogLikelihood => Maximum.Ascent.Value;

    /// <summary>Effects that the table can tell apart, infinite ones included: K of AICc.</summary>
    public int Parameters => Maximum.First.Width;

    /// <summary>AICc with n = visit intervals; a reason when n ≤ K + 1.</summary>
    public Answer<double> Aicc { get; }

    /// <summary>Clusters that inform, m.</summary>
    public int Clusters { get; }

    /// <summary>What Newton's method did.</summary>
    public NewtonDiary Diary => Maximum.Diary;

    /// <summary>What must be said beside the fit: columns left out, separation, few groups, a doubtful end.</summary>
    public ImmutableArray<Phrase> Warnings { get; }

    /// <summary>Whether some effect is infinite at the maximum; then <see cref="WithPrior"/> has a bounded answer.</summary>
    public bool IsSeparated => Maximum.IsSeparated;

    /// <summary>Effects with the cluster-robust covariance A⁻¹(m/(m − 1)·Σu_g u_gᵀ)A⁻¹, A the observed information, t(m − 1).</summary>
    public FittedEffects Clustered { get; }

    /// <summary>Effects with the inverse observed information, nests independent, normal limits.</summary>
    public FittedEffects Independent { get; }

    /// <summary>The bounded answer under a weakly informative prior, kept apart from the maximum likelihood; computed when asked for.</summary>
    public PriorFit WithPrior => prior.Value;

    internal EffectsMaximum Maximum { get; }

    /// <summary>How do these effects act on daily loss?</summary>
    /// <param name="table">Patterns, days watched and losses; groups are the clusters.</param>
    /// <param name="link">How effects act: positive is better survival (daily logit) or more loss (log hazard).</param>
    /// <param name="options">Columns and level; null: the usual ones.</param>
    /// <returns>The fit; a reason when no interval informs or no column is left.</returns>
    /// <exception cref="ArgumentException">A chosen column is not in the table, or the level is outside (0, 1).</exception>
    /// <remarks>
    /// Newton with a line search from one constant rate on centred and scaled columns. Constant and dependent columns are left out, later ones first, and said. Where the likelihood keeps rising
    /// (nothing lost in a class, everything lost, a combination of columns that tells losses from survivals) the log-likelihood and the other effects are those at the limit, and the infinite ones have none.
    /// Cost: O(patterns·k²) a step, 4 to 7 steps.
    /// </remarks>
    /// <source>Shaffer 2004, Auk 121, 526–540 (daily logit); Huber 1967, Proc. 5th Berkeley Symp. 1, 221–233, and Liang and Zeger 1986, Biometrika 73, 13–22 (cluster-robust covariance); Albert and Anderson 1984, Biometrika 71, 1–10 (separation); all from memory, to be confirmed</source>
    /// <check>reference-seasons</check>
    public static Answer<EffectsFit> Of(ModelTable table, Link link, EffectsOptions? options = null)
    {
        options ??= EffectsOptions.Default;
        if (!(options.Level > 0 && options.Level < 1)) throw new ArgumentException("a level lies between 0 and 1", nameof(options));
        if (table.Patterns == 0) return NoAnswer.Because("models.no_interval");
        var chosen = options.Columns is { } names ? names.Select(name => Place(table, name)).Order().ToImmutableArray() : [.. Enumerable.Range(0, table.Width)];
        var maximum = EffectsMaximum.Of(table, link, chosen);
        if (maximum.First.Width == 0) return NoAnswer.Because("models.no_column");
        return new EffectsFit(table, link, options, maximum, EffectsSpread.Of(maximum, link));
    }

    private static int Place(ModelTable table, string name) => table.Columns.IndexOf(name) is >= 0 and var place ? place : throw new ArgumentException("no column " + name, nameof(name));
}
