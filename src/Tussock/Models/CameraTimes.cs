namespace Tussock.Models;

/// <summary>What a camera's time of loss is taken for.</summary>
public enum CameraTimes
{
    /// <summary>The exact time of the loss: it adds the density a day.</summary>
    Exact,

    /// <summary>Nothing: the loss lies somewhere between two visits, as for a nest without a camera.</summary>
    Ignore,
}
