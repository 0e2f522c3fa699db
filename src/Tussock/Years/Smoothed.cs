namespace Tussock.Years;

/// <summary>Log odds of a share that stay finite where all or none survived.</summary>
/// <source>Anscombe 1956, Biometrika 43, 461–464: half a nest added to either side (from memory, to be confirmed)</source>
internal static class Smoothed
{
    /// <summary>log((y + ½)/(n − y + ½)).</summary>
    internal static double LogOdds(double survived, double known) => Math.Log((survived + 0.5) / (known - survived + 0.5));

    /// <summary>Its variance for independent nests, 1/(y + ½) + 1/(n − y + ½).</summary>
    internal static double Variance(double survived, double known) => (1 / (survived + 0.5)) + (1 / (known - survived + 0.5));
}
