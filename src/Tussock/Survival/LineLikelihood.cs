using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>
/// What the nests of one line say about the line's own log cumulative hazard u to the end of the trial:
/// log P(u) = −e^u·S + E·u + Σ_j K_j·log(1 − exp(−e^u·d_j)).
/// </summary>
/// <remarks>
/// S: summed hazard shape that nests are known to have survived; E: nests whose loss a camera timed (density per unit of shape, the
/// constant log G′(t) left out); d_j: shape within which K_j nests were lost. Log P is concave in u. Values are sorted, so the order of
/// the rows changes no bit.
/// </remarks>
internal sealed class LineLikelihood
{
    /// <summary>Log units below the peak at which a line's likelihood is taken as 0.</summary>
    private const double Depth = 45;

    /// <summary>How near to its upper end, 1, a line's likelihood is taken as 1.</summary>
    private const double Flat = 1e-9;

    public LineLikelihood(Span<double> survived, int timed, Span<double> lostWithin)
    {
        survived.Sort();
        lostWithin.Sort();
        foreach (var s in survived) Survived += s;
        Timed = timed;
        Lost = timed + lostWithin.Length;
        (Within, Counts) = Runs(lostWithin);
        var mode = Mode();
        Peak = double.IsFinite(mode) ? At(mode) : 0;
        From = Lost == 0 ? double.NegativeInfinity : Edge(mode, -1);
        To = Survived == 0 ? double.PositiveInfinity : Edge(mode, 1);
    }

    /// <summary>S.</summary>
    public double Survived { get; }

    /// <summary>E.</summary>
    public int Timed { get; }

    /// <summary>Number of lost nests, timed or not.</summary>
    public int Lost { get; }

    /// <summary>The different d_j, ascending.</summary>
    public double[] Within { get; }

    /// <summary>K_j.</summary>
    public double[] Counts { get; }

    /// <summary>Largest value (or supremum) of log P.</summary>
    public double Peak { get; }

    /// <summary>Below this u the likelihood is nothing beside its peak; −∞ when nothing was lost.</summary>
    public double From { get; }

    /// <summary>Above this u the likelihood is nothing beside its peak; +∞ when no survival is on record.</summary>
    public double To { get; }

    /// <summary>Below this u nothing changes: the likelihood is 0, or 1 when nothing was lost.</summary>
    public double FlatBelow => Lost > 0 ? From : Survived > 0 ? Math.Log(Flat / Survived) : 0;

    /// <summary>Above this u nothing changes: the likelihood is 0, or 1 when no survival is on record.</summary>
    public double FlatAbove => Survived > 0 ? To : Lost > 0 ? Math.Log(Math.Log(Lost / Flat) / Within[0]) : 0;

    /// <summary>Log P at u.</summary>
    public double At(double u)
    {
        var x = Math.Exp(u);
        var sum = (Timed * u) - (x * Survived);
        for (var j = 0; j < Within.Length; j++) sum += Counts[j] * LogOneMinusExp.At(x * Within[j]);
        return sum;
    }

    /// <summary>By content: lines that say the same are equal.</summary>
    public static int Order(LineLikelihood one, LineLikelihood other)
    {
        var order = one.Survived.CompareTo(other.Survived);
        if (order == 0) order = one.Timed.CompareTo(other.Timed);
        if (order == 0) order = one.Within.AsSpan().SequenceCompareTo(other.Within);
        return order == 0 ? one.Counts.AsSpan().SequenceCompareTo(other.Counts) : order;
    }

    private static (double[] Values, double[] Counts) Runs(Span<double> sorted)
    {
        var values = new List<double>();
        var counts = new List<double>();
        foreach (var d in sorted)
        {
            if (values.Count > 0 && values[^1] == d) counts[^1]++;
            else
            {
                values.Add(d);
                counts.Add(1);
            }
        }

        return ([.. values], [.. counts]);
    }

    /// <summary>Newton's method on a concave function; −∞ or +∞ where log P rises to the end.</summary>
    private double Mode()
    {
        if (Lost == 0) return double.NegativeInfinity;
        if (Survived == 0) return double.PositiveInfinity;
        var half = 0.0;
        for (var j = 0; j < Within.Length; j++) half += Counts[j] * Within[j] / 2;
        var u = Math.Log(Lost / (Survived + half));
        for (var step = 0; step < 50; step++)
        {
            var (slope, curvature) = Slope(u);
            var change = Math.Clamp(-slope / curvature, -2, 2);
            u += change;
            if (Math.Abs(change) < 1e-7) break;
        }

        return u;
    }

    private (double Slope, double Curvature) Slope(double u)
    {
        var x = Math.Exp(u);
        double slope = Timed - (x * Survived), curvature = -x * Survived;
        for (var j = 0; j < Within.Length; j++)
        {
            var y = x * Within[j];
            var e = Math.Exp(y);
            var r = y < 1e-5 ? 1 - (y / 2) : y > 700 ? 0 : y / (e - 1);
            slope += Counts[j] * r;
            curvature += Counts[j] * r * (y < 1e-5 ? -y / 2 : 1 - r - y);
        }

        return (slope, curvature);
    }

    /// <summary>A place, not far beyond the nearest one, where log P has fallen by <see cref="Depth"/> on one side of its mode.</summary>
    private double Edge(double mode, int side)
    {
        var step = 8 / Math.Sqrt(1 + (1.3 * Lost));
        if (!double.IsFinite(mode)) mode = Lost == 0 ? -Math.Log(Survived) - 20 : 20 - Math.Log(Lost == Timed ? 1 : Within[^1]);
        var u = mode + (side * step);
        while (At(u) - Peak > -Depth)
        {
            step *= 1.4;
            u += side * step;
        }

        return u;
    }
}
