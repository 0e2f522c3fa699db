namespace Tussock.Pictures;

/// <summary>An estimate as it is drawn: a dot and its whiskers. What is null is not drawn.</summary>
/// <param name="Value">Estimate, in its own unit.</param>
/// <param name="Low">Lower limit.</param>
/// <param name="High">Upper limit.</param>
public readonly record struct Dot(double? Value, double? Low, double? High)
{
    /// <summary>Value and limits of an estimate.</summary>
    public static Dot Of(Estimate estimate) => new(estimate.Value, estimate.Low, estimate.High);
}
