namespace Tussock.Evidence;

/// <summary>A nest of another season, and what it counts beside a nest of this one.</summary>
/// <param name="Nest">The nest.</param>
/// <param name="Discount">What it counts, in [0, 1].</param>
public readonly record struct NestOfOtherSeason(NestEvidence Nest, double Discount)
{
    /// <summary>What a nest of another season on the same property counts.</summary>
    public const double SameProperty = 0.5;

    /// <summary>What a nest of another season on another property counts.</summary>
    public const double Elsewhere = 0.25;
}
