namespace Tussock.Models;

/// <summary>A test that some effects are all 0.</summary>
/// <param name="Statistic">χ² or F, ≥ 0.</param>
/// <param name="Degrees">Effects tested, q.</param>
/// <param name="Denominator">Denominator of F, m − 1; null for χ².</param>
/// <param name="P">P value in [0, 1].</param>
/// <param name="Method">A fixed English token.</param>
/// <param name="Note">What the test takes for granted.</param>
public sealed record EffectsTest(double Statistic, int Degrees, int? Denominator, double P, string Method, Phrase? Note);
