using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Test of a model against one with more effects, by their log-likelihoods.</summary>
public static class LikelihoodRatio
{
    /// <summary>Do the further effects explain more than chance would?</summary>
    /// <param name="full">The model with more effects.</param>
    /// <param name="part">A model of the same table and link whose columns are among those of <paramref name="full"/>.</param>
    /// <returns>2(ℓ_full − ℓ_part) with χ²(K_full − K_part); a reason when the models are not nested or no effect is left to test. Stands under separation too.</returns>
    /// <remarks>Takes nests as independent, which is said: where lines differ it calls too much significant. The clustered <see cref="Wald"/> allows for lines.</remarks>
    /// <source>Wilks 1938, Annals of Mathematical Statistics 9, 60–62; from memory, to be confirmed</source>
    /// <check>reference-seasons</check>
    public static Answer<EffectsTest> Of(EffectsFit full, EffectsFit part)
    {
        if (!ReferenceEquals(full.Table, part.Table) || full.Link != part.Link || !part.Maximum.Chosen.All(full.Maximum.Chosen.Contains)) return NoAnswer.Because("models.not_nested");
        var degrees = full.Parameters - part.Parameters;
        if (degrees <= 0) return NoAnswer.Because("models.nothing_to_test");
        var statistic = Math.Max(0, 2 * (full.LogLikelihood - part.LogLikelihood));
        return new EffectsTest(statistic, degrees, null, Tails.ChiSquareAbove(statistic, degrees), "likelihood ratio, nests independent", Phrase.Of("models.independent"));
    }
}
