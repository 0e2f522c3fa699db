using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Limits of an effect from the likelihood itself: all values that the data do not speak against, however lopsided.</summary>
public static class EffectProfile
{
    private const string Method = "profile likelihood, nests independent";

    /// <summary>Which values of this effect are compatible with the data?</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="column">Name of a column of the fit.</param>
    /// <param name="level">Confidence level in (0, 1); null: that of the fit.</param>
    /// <returns>The maximum-likelihood value with {b: 2(ℓ̂ − ℓ(b)) ≤ χ²(1) quantile}. A side without end is null, and why says so; under separation the value is null and one side is known.</returns>
    /// <exception cref="ArgumentException">The fit has no such column.</exception>
    /// <remarks>
    /// Newton on the signed root of the likelihood ratio, whose slope is the Lagrange multiplier of the constrained maximum, within a bracket; each constrained maximum starts from the last one.
    /// Cost: some ten short fits. Takes nests as independent: where lines differ the cluster-robust limits are the honest ones.
    /// </remarks>
    /// <source>Venzon and Moolgavkar 1988, Applied Statistics 37, 87–94 (the set, another way to its ends); from memory, to be confirmed</source>
    /// <check>reference-seasons</check>
    public static Estimate Of(EffectsFit fit, string column, double? level = null)
    {
        var form = new double[fit.Table.Width];
        var place = fit.Table.Columns.IndexOf(column);
        if (!fit.Maximum.Chosen.Contains(place)) throw new ArgumentException("no column " + column, nameof(column));
        if (fit.Maximum.LeftOut.Contains(place)) return fit.Coefficients[fit.Maximum.Chosen.IndexOf(place)].Independent with { Method = Method };
        form[place] = 1;
        return Of(fit, form, level);
    }

    /// <summary>Which values of this combination of effects are compatible with the data?</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="form">Weight of each column of the table; a linear predictor x·β is such a combination.</param>
    /// <param name="level">Confidence level in (0, 1); null: that of the fit.</param>
    /// <returns>As for a single effect.</returns>
    /// <remarks>As for a single effect.</remarks>
    /// <source>Venzon and Moolgavkar 1988, Applied Statistics 37, 87–94 (the set, another way to its ends); from memory, to be confirmed</source>
    /// <check>reference-seasons</check>
    public static Estimate Of(EffectsFit fit, double[] form, double? level = null)
    {
        var at = level ?? fit.Options.Level;
        var isKnown = fit.Independent.Knows(form);
        double? value = isKnown ? WeightedSums.Of(form, fit.Independent.Beta) : null;
        double? low = new ProfileSide(fit, form, at, -1).Limit(), high = new ProfileSide(fit, form, at, 1).Limit();
        return new Estimate
        {
            Value = value,
            Se = isKnown && fit.Independent.Variance(form) is { } variance ? Math.Sqrt(variance) : null,
            Low = low,
            High = high,
            Level = at,
            Method = Method,
            Why = low is null || high is null ? Open(low, high) : null,
            Notes = [Phrase.Of("models.independent")],
        };
    }

    private static Phrase Open(double? low, double? high) => Phrase.Of((low, high) switch
    {
        (null, null) => "models.profile_open",
        (null, _) => "models.profile_open_below",
        _ => "models.profile_open_above",
    });
}
