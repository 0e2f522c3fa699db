using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Test that several effects are all 0, by their covariance.</summary>
public static class Wald
{
    /// <summary>Are these effects all 0?</summary>
    /// <param name="effects">Effects with the covariance to use: cluster-robust or independent.</param>
    /// <param name="columns">Names of the columns tested, at least one.</param>
    /// <returns>With degrees of freedom of t: F = βᵀV⁻¹β/q on (q, m − 1); else χ²(q). A reason when a column has no effect, or when there are too few clusters for so many effects.</returns>
    /// <exception cref="ArgumentException">A column is not in the model.</exception>
    /// <source>Wald 1943, Transactions of the American Mathematical Society 54, 426–482; from memory, to be confirmed. F on (q, m − 1): common practice, no source.</source>
    /// <check>reference-seasons</check>
    public static Answer<EffectsTest> Of(FittedEffects effects, params IReadOnlyList<string> columns)
    {
        if (effects.Covariance is null) return new NoAnswer(effects.Why!);
        int q = columns.Count, k = effects.Columns.Length;
        var places = columns.Select(c => effects.Columns.IndexOf(c) is >= 0 and var place ? place : throw new ArgumentException("no column " + c, nameof(columns))).ToArray();
        double[] v = new double[q * q], b = [.. places.Select(p => effects.Beta[p])], x = (double[])b.Clone();
        for (var i = 0; i < q; i++) for (var j = 0; j < q; j++) v[i * q + j] = effects.Covariance[places[i] * k + places[j]];
        if (places.Any(p => effects.Covariance[p * k + p] == 0)) return NoAnswer.Because("models.no_effect_to_test");
        if (effects.Degrees < q || !Cholesky.Factor(v, q)) return NoAnswer.Because("models.too_few_groups_to_test", ("groups", (effects.Degrees ?? 0) + 1), ("effects", q));
        Cholesky.Solve(v, q, x);
        var chi = 0.0;
        for (var i = 0; i < q; i++) chi += b[i] * x[i];
        return effects.Degrees is { } degrees
            ? new EffectsTest(chi / q, q, degrees, Tails.FisherAbove(chi / q, q, degrees), "Wald F, " + effects.Method, null)
            : new EffectsTest(chi, q, null, Tails.ChiSquareAbove(chi, q), "Wald, " + effects.Method, Phrase.Of("models.independent"));
    }
}
