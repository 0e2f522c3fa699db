namespace Tussock.Models;

/// <summary>Where one group's random effect z is most plausible: the zero of σ·S1(σz) − z.</summary>
/// <remarks>
/// The slope falls in z wherever the terms are concave (all single intervals under both links, all pieces under the log hazard), so Newton's steps need only a
/// bracket as guard; a step of the linear predictor is at most <see cref="LongestStep"/>.
/// </remarks>
internal static class GroupMode
{
    private const double LongestStep = 3, Tolerance = 1e-8;

    private const int MostSteps = 200;

    /// <summary>The mode, from a start near it; exact to rounding, since the step after one below the tolerance would be below its square.</summary>
    public static double Find(GroupLikelihood likelihood, int group, double sigma, double start)
    {
        double z = double.IsFinite(start) ? start : 0, low = double.NegativeInfinity, high = double.PositiveInfinity;
        for (var step = 0; step < MostSteps; step++)
        {
            var (first, second) = likelihood.Slopes(group, sigma * z);
            double slope = sigma * first - z, move = slope / Math.Max(1 - sigma * sigma * second, 1e-3);
            if (slope > 0) low = z;
            else high = z;
            var next = z + Math.Clamp(move, -LongestStep / sigma, LongestStep / sigma);
            if (!(next >= low && next <= high)) next = double.IsFinite(low) && double.IsFinite(high) ? (low + high) / 2 : z + (slope > 0 ? 1 : -1) * LongestStep / sigma;
            var moved = Math.Abs(next - z);
            z = next;
            if (moved <= Tolerance * (1 + Math.Abs(z))) break;
        }

        return z;
    }
}
