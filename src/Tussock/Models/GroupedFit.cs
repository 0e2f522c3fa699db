using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>A coefficient of a grouped fit.</summary>
/// <param name="Name">Column.</param>
/// <param name="Coefficient">
/// Value, standard error and Wald limits on the scale of the link; no value where the likelihood rises without end. Limits are normal, but for an effect that is constant within each line
/// (the intercept, a line's density) Student's t with lines less such effects as degrees of freedom.
/// </param>
/// <param name="Z">Value by standard error.</param>
/// <param name="P">Two-sided p value from the same distribution.</param>
public sealed record GroupedEffect(string Name, Estimate Coefficient, double? Z, double? P);

/// <summary>How much groups of one kind differ: the standard deviation of their random intercept on the scale of the link.</summary>
/// <param name="Name">Name of the grouping.</param>
/// <param name="Sd">Standard deviation ≥ 0 with its limits; no limits where the grouping has a single group.</param>
/// <param name="LogSe">Standard error of its logarithm; null at 0.</param>
/// <param name="LikelihoodRatio">Twice the gain of log-likelihood over a standard deviation of 0.</param>
/// <param name="P">½·P(χ²₁ ≥ LR), since 0 is the end of the range.</param>
public sealed record GroupedSpread(string Name, Estimate Sd, double? LogSe, double LikelihoodRatio, double P);

/// <summary>Where one group stands: the mode of its random intercept.</summary>
/// <param name="Name">Group.</param>
/// <param name="Mode">Mode on the scale of the link.</param>
/// <param name="Sd">Conditional standard deviation, from the observed curvature at the mode.</param>
public readonly record struct GroupedMode(string Name, double Mode, double Sd);

/// <summary>A survival model in which nests of a group share luck: a normal random intercept a group on the scale of the link.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed record GroupedFit
{
    internal GroupedFit()
    {
    }

    /// <summary>The table it was fitted to.</summary>
    public required ModelTable Table { get; init; }

    /// <summary>Scale of the effects.</summary>
    public required Link Link { get; init; }

    /// <summary>The choices it was fitted with; the number of nodes is the one used.</summary>
    public required GroupedOptions Options { get; init; }

    /// <summary>One a chosen column, in the order of the table.</summary>
    public required ImmutableArray<GroupedEffect> Effects { get; init; }

    /// <summary>Spreads: the table's groups first, then further groupings.</summary>
    public required ImmutableArray<GroupedSpread> Spreads { get; init; }

    /// <summary>Log-likelihood at the maximum, random intercepts integrated out.</summary>
    public required double LogLikelihood { get; init; }

    /// <summary>Log-likelihood with all spreads 0.</summary>
    public required double LogLikelihoodWithoutGroups { get; init; }

    /// <summary>Coefficients and one a spread: K of AICc.</summary>
    public required int Parameters { get; init; }

    /// <summary>AICc with n = visit intervals, or why there is none.</summary>
    public required Answer<double> Aicc { get; init; }

    /// <summary>What the search for the maximum did.</summary>
    public required NewtonDiary Diary { get; init; }

    /// <summary>What has to be said beside the numbers.</summary>
    public required ImmutableArray<Phrase> Warnings { get; init; }

    /// <summary>Effects with their covariance, on a line whose random intercept is 0: what predictions for a typical line are made of.</summary>
    public required FittedEffects Typical { get; init; }

    /// <summary>
    /// Inverse of minus the second derivatives by (all columns of the table, standard deviations), row by row; 0 for a column without an effect and for a standard deviation that is 0.
    /// Empty when the likelihood is flat.
    /// </summary>
    public required ImmutableArray<double> Covariance { get; init; }

    /// <summary>Modes of the table's groups, by index.</summary>
    public required ImmutableArray<GroupedMode> Modes { get; init; }

    /// <summary>The same fit under a weakly informative prior, where the data alone put a coefficient at no finite value; else null.</summary>
    public GroupedFit? WithPrior { get; init; }

    /// <summary>Which nests and lines share luck, and by how much, beside the effects?</summary>
    /// <param name="table">The table; its groups (lines) get a random intercept each.</param>
    /// <param name="link">Scale of the effects.</param>
    /// <param name="options">Nodes, level, profile limits; null for the usual.</param>
    /// <returns>The fit; a reason when no nest was lost, when none was seen intact, or when the spread has no end.</returns>
    /// <exception cref="ArgumentOutOfRangeException">Nodes or level are out of range.</exception>
    /// <remarks>
    /// Maximum of the marginal likelihood by Newton's method with exact second derivatives, by <see cref="AdaptiveGaussHermite"/> with observed curvature.
    /// Edges: a spread whose likelihood is largest at 0 is exactly 0, with a warning; one group alone says nothing of the spread; an effect without end
    /// (a class without a loss) has no value, the others stand at their limit, and <see cref="WithPrior"/> is bounded. The order of groups and rows changes nothing but the last digits;
    /// the number of threads changes no bit. Cost: linear in nests times nodes, about six evaluations. It misleads when luck is far from normal over groups, and with fewer than six groups or so.
    /// </remarks>
    /// <source>Pinheiro &amp; Bates 1995, Journal of Computational and Graphical Statistics 4, 12–35; boundary test: Self &amp; Liang 1987, Journal of the American Statistical Association 82, 605–610 (both from memory, to be confirmed).</source>
    /// <check>reference-seasons</check>
    public static Answer<GroupedFit> Of(ModelTable table, Link link, GroupedOptions? options = null)
    {
        options = Checked(options);
        return Reported(table, link, options, null);
    }

    /// <summary>The same with further groupings above or across the table's groups, by Laplace's approximation.</summary>
    /// <param name="table">The table; its groups (lines) get a random intercept each.</param>
    /// <param name="link">Scale of the effects.</param>
    /// <param name="above">Further groupings, each with a random intercept a level; none: one grouping with one node.</param>
    /// <param name="options">Level and profile limits; the number of nodes is 1 whatever it says.</param>
    /// <returns>The fit; a reason when no nest was lost, when none was seen intact, or when a spread has no end.</returns>
    /// <exception cref="ArgumentException">A grouping does not name a level for each group.</exception>
    /// <remarks>
    /// Newton's method with the exact gradient of <see cref="NestedLaplace"/> and second derivatives from its differences. Edges as for one grouping; a grouping with one informative level gets no spread.
    /// Cost: linear in nests, cubic in the number of levels above (hundreds are fine). Laplace's approximation is rough where levels hold few nests.
    /// </remarks>
    /// <source>Breslow &amp; Clayton 1993, Journal of the American Statistical Association 88, 9–25 (from memory, to be confirmed).</source>
    /// <check>reference-seasons</check>
    public static Answer<GroupedFit> Of(ModelTable table, Link link, ImmutableArray<Grouping> above, GroupedOptions? options = null)
    {
        options = Checked(options) with { Nodes = 1 };
        if (above.Any(a => a.Level.Length != table.Groups || a.Level.Any(l => l < 0))) throw new ArgumentException("one level, from 0, for each group", nameof(above));
        return Reported(table, link, options, above);
    }

    private static Answer<GroupedFit> Reported(ModelTable table, Link link, GroupedOptions options, ImmutableArray<Grouping>? above)
    {
        if (Impossible(table) is { } none) return none;
        var plain = EffectsFit.Of(table, link, new EffectsOptions { Columns = options.Columns, Level = options.Level });
        return plain.HasValue ? new GroupedReport(plain.Value, options, above).Fit() : new NoAnswer(plain.Why);
    }

    private static GroupedOptions Checked(GroupedOptions? options)
    {
        options ??= GroupedOptions.Usual;
        if (options.Nodes is < 1 or > 25) throw new ArgumentOutOfRangeException(nameof(options), "1 to 25 nodes");
        if (!(options.Level is > 0 and < 1)) throw new ArgumentOutOfRangeException(nameof(options), "a level in (0, 1)");
        return options;
    }

    private static NoAnswer? Impossible(ModelTable table)
    {
        if (table.Losses == 0 && !table.Timed.Any(t => t > 0)) return NoAnswer.Because("grouped.nothing_lost");
        return table.Watched.Any(w => w > 0) ? null : NoAnswer.Because("grouped.nothing_intact");
    }
}
