using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>How nests are read for a survival model.</summary>
public sealed record FrameOptions
{
    /// <summary>What a camera's time of loss is taken for.</summary>
    public CameraTimes Cameras { get; init; }

    /// <summary>What counts as the end of a nest.</summary>
    public Outcome Outcome { get; init; }

    /// <summary>Clumps an acre of each line by its name, &gt; 0; a line without a counted belt is not among them.</summary>
    public ImmutableDictionary<string, double> ClumpsPerAcre { get; init; } = ImmutableDictionary<string, double>.Empty;
}
