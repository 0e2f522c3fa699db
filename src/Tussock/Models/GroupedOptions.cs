using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>How a model with random intercepts is fitted. May be shared between threads.</summary>
public sealed record GroupedOptions
{
    /// <summary>The usual way: 9 nodes, 95 %, profile limits of the spread.</summary>
    public static GroupedOptions Usual { get; } = new();

    /// <summary>Names of the columns to use, in the order of the table; null: all.</summary>
    public ImmutableArray<string>? Columns { get; init; }

    /// <summary>Nodes of the quadrature, 1 (Laplace's approximation) to 25; several groupings always use 1.</summary>
    public int Nodes { get; init; } = 9;

    /// <summary>What one of the table's groups is called, in the singular.</summary>
    public string GroupName { get; init; } = "line";

    /// <summary>Confidence level in (0, 1).</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>Whether profile limits of the spread are searched for, which takes a few times as long as the fit; without them they are Wald limits on the log scale.</summary>
    public bool Profile { get; init; } = true;
}
