using Tussock.Numerics;
using Tussock.Survival;

namespace Tussock.Planning.Power;

/// <summary>How many cameras tell who takes the nests.</summary>
/// <param name="Losses">Losses that a camera must have seen.</param>
/// <param name="Cameras">Cameras that give so many losses with a chance of 0.8.</param>
/// <param name="HalfWidth">Half the width of the limits of a class that takes half of the nests, when so many losses were seen.</param>
/// <param name="LossesByFormula">Losses by the textbook's z²/(4·h²).</param>
public sealed record NeededCameras(int Losses, int Cameras, double HalfWidth, double LossesByFormula)
{
    /// <summary>How near each class's share is to be known: ± 15 points.</summary>
    public const double WithinPoints = 0.15;

    private const double Enough = 0.8;
    private const int Most = 5000;

    /// <summary>How many cameras at nests give every class's share within so many points?</summary>
    /// <param name="survival">Survival to the end of the trial, in [0, 1).</param>
    /// <param name="works">Share of cameras that see the loss when there is one, in (0, 1].</param>
    /// <param name="within">Half-width of the limits, in (0, 0.5).</param>
    /// <returns>Losses and cameras; a reason when more than 5,000 cameras would be needed.</returns>
    /// <remarks>
    /// Jeffreys limits as in the composition of losses; a class that takes half of the nests has the widest ones, so no class is known less well.
    /// Cameras: the smallest number of which enough see a loss with a chance of 0.8 (binomial). Losses are taken as independent: one
    /// raccoon that works along a line makes it more, so spread cameras over lines.
    /// </remarks>
    /// <source>Brown, Cai &amp; DasGupta 2001, Statistical Science 16:101–133 (Jeffreys limits; from memory, to be confirmed); binomial distribution, textbook.</source>
    /// <check>worked-by-hand</check>
    public static Answer<NeededCameras> Of(double survival, double works = 1, double within = WithinPoints)
    {
        var losses = 1;
        while (HalfWidthOf(losses) > within) losses++;
        var z = Tails.NormalQuantile(0.975);
        for (var cameras = losses; cameras <= Most; cameras++)
        {
            if (1 - Tails.BinomialBelow(losses, cameras, (1 - survival) * works) >= Enough) return new NeededCameras(losses, cameras, HalfWidthOf(losses), z * z / (4 * within * within));
        }

        return NoAnswer.Because("power.cameras_too_many", ("losses", losses), ("cameras", Most));
    }

    private static double HalfWidthOf(int losses)
    {
        var (low, high) = Jeffreys.Limits(losses / 2, losses);
        return (high - low) / 2;
    }
}
