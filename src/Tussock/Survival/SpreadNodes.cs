namespace Tussock.Survival;

/// <summary>Nodes and weights of the integral over τ, the spread of lines: the trapezoidal rule in y, τ = w·sinh y.</summary>
/// <param name="Sds">τ of each node, ascending.</param>
/// <param name="Weights">Weight of each node for a function of τ² (or one that is nothing at the lower end).</param>
/// <param name="Spreads">τ once more, to be summed with the same weights for the mean of τ.</param>
internal sealed record SpreadNodes(double[] Sds, double[] Weights, double[] Spreads)
{
    /// <summary>
    /// Where the nodes begin at 0, τ times a function of τ² has a kink there. The Euler–Maclaurin terms −ζ(−p)·h^(p+1), p = 1, 3, 5, 7, are
    /// written as shares of the first four nodes: Σ_j c_j·j^p = −ζ(−p).
    /// </summary>
    private static readonly double[] Kink = [252769.0 / 1814400, -68119.0 / 1814400, 1469.0 / 201600, -2497.0 / 3628800];

    /// <summary>The rule for y from <paramref name="from"/> to <paramref name="to"/> in a number of steps.</summary>
    public static SpreadNodes Of(double width, double from, double to, int steps)
    {
        double[] sds = new double[steps + 1], weights = new double[steps + 1], spreads = new double[steps + 1];
        var step = (to - from) / steps;
        for (var i = 0; i <= steps; i++)
        {
            var y = from + (i * step);
            sds[i] = spreads[i] = width * Math.Sinh(y);
            weights[i] = width * Math.Cosh(y) * (i == 0 || i == steps ? step / 2 : step);
            if (from == 0 && i >= 1 && i <= Kink.Length) spreads[i] *= 1 + Kink[i - 1];
        }

        return new SpreadNodes(sds, weights, spreads);
    }
}
