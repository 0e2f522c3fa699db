namespace Tussock.Cover;

/// <summary>What the densities that fit as the parity density look like together.</summary>
public enum ParityShape
{
    /// <summary>All between two limits.</summary>
    Bounded,

    /// <summary>All up to one density and all from another: only those between are ruled out.</summary>
    TwoRays,

    /// <summary>Every density fits.</summary>
    Everything,
}
