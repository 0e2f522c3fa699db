using System.Collections.Immutable;

namespace Tussock;

/// <summary>One estimated number with its interval, method and doubts: the only shape in which an uncertain number leaves the core.</summary>
/// <remarks>
/// Every number is finite or null, never NaN. <see cref="Why"/> says why a number is missing (the value itself, or its limits);
/// <see cref="Notes"/> hold what else must be said beside the number. May be shared between threads.
/// </remarks>
public sealed record Estimate
{
    private readonly double? estimate, low, high, se;

    /// <summary>The estimate, in its own unit; null when it can't be had.</summary>
    public double? Value { get => estimate; init => estimate = Finite(value); }

    /// <summary>Lower limit; null when it can't be had.</summary>
    public double? Low { get => low; init => low = Finite(value); }

    /// <summary>Upper limit; null when it can't be had.</summary>
    public double? High { get => high; init => high = Finite(value); }

    /// <summary>Standard error on the estimate's own scale; null where the method has none.</summary>
    public double? Se { get => se; init => se = Finite(value); }

    /// <summary>Confidence (or posterior) level of the limits, in (0, 1).</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>The method in plain words, a fixed English token for JSON, for example "cluster-robust logit, t(m - 1)".</summary>
    public required string Method { get; init; }

    /// <summary>Why a number is missing; null when none is.</summary>
    public Phrase? Why { get; init; }

    /// <summary>What else has to be said beside the number (few lines, clustering ignored, …).</summary>
    public ImmutableArray<Phrase> Notes { get; init; } = [];

    /// <summary>An estimate that can't be had.</summary>
    public static Estimate None(string method, Phrase why) => new() { Method = method, Why = why };

    private static double? Finite(double? x) => x is null || double.IsFinite(x.Value)
        ? x
        : throw new ArgumentException("An estimate holds finite numbers or null; say why in Why.");
}
