using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>How a fixed-effects model is fitted.</summary>
public sealed record EffectsOptions
{
    /// <summary>Names of the columns to use, in the order of the table; null: all.</summary>
    public ImmutableArray<string>? Columns { get; init; }

    /// <summary>Confidence level of limits, in (0, 1).</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>The usual choices.</summary>
    public static EffectsOptions Default { get; } = new();
}
