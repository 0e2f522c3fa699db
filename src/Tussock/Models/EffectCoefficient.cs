namespace Tussock.Models;

/// <summary>One effect of a fit, on the scale of its column.</summary>
/// <param name="Name">Name of the column.</param>
/// <param name="Clustered">With the cluster-robust standard error and t(m − 1) limits: the one that is shown first.</param>
/// <param name="ClusteredP">Two-sided p of no effect, t(m − 1); null when it can't be had.</param>
/// <param name="Independent">With the standard error of independent nests (inverse observed information) and normal limits.</param>
/// <param name="IndependentP">Two-sided p of no effect, normal; null when it can't be had.</param>
public sealed record EffectCoefficient(string Name, Estimate Clustered, double? ClusteredP, Estimate Independent, double? IndependentP);
