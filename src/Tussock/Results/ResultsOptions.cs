namespace Tussock.Results;

/// <summary>What an answer is computed with, besides the season.</summary>
public sealed record ResultsOptions
{
    /// <summary>Seed of everything that resamples or permutes.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Certainty asked for a call, in (0.5, 1); null: the usual one for the number of lines.</summary>
    public double? Certainty { get; init; }

    /// <summary>Told the share of the work done, in [0, 1], from any thread.</summary>
    public Action<double>? Progress { get; init; }

    /// <summary>Stops the work.</summary>
    public CancellationToken Cancel { get; init; }
}
