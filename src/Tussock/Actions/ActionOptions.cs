namespace Tussock.Actions;

/// <summary>How a before–after–control contrast is computed.</summary>
public sealed record ActionOptions
{
    /// <summary>Confidence level in (0, 1).</summary>
    public double Level { get; init; } = 0.95;

    /// <summary>Seed of the draw of placebo runs, where there are more ways than are run.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Placebo runs at most, ≥ 1.</summary>
    public int MostPlacebos { get; init; } = 199;

    /// <summary>Told the share of placebo runs done; null: nobody.</summary>
    public Action<double>? Progress { get; init; }

    /// <summary>Stops the placebo runs.</summary>
    public CancellationToken Cancel { get; init; }
}
