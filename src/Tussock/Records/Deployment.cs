namespace Tussock.Records;

/// <summary>A camera that stood at a nest for a time. A camera that saw nothing is data. May be shared between threads.</summary>
public sealed class Deployment
{
    /// <summary>The nest.</summary>
    public required Nest Nest { get; init; }

    /// <summary>How the nest was chosen: drawn, handy, after_loss; empty when not written.</summary>
    public string Chosen { get; init; } = "";

    /// <summary>Minutes that the camera's clock was ahead (negative: behind); 0 when not written.</summary>
    public double ClockOffsetMin { get; init; }

    /// <summary>The row it was read from.</summary>
    public required Source Source { get; init; }
}
