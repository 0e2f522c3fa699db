namespace Tussock.Cover;

/// <summary>All densities that fit as the parity density: {D: 2(ℓ̂ − ℓ(D)) ≤ critical value}, on the log scale.</summary>
/// <param name="Shape">What they look like together.</param>
/// <param name="Low">The smaller end; null when every density fits.</param>
/// <param name="High">The larger end.</param>
internal readonly record struct ParitySet(ParityShape Shape, double? Low, double? High)
{
    /// <summary>Log units from where a search begins, beyond which no end is looked for: a factor of 10¹³.</summary>
    private const double Farthest = 30;

    private const double Tolerance = 1e-6;

    private const int MostSteps = 60, GoldenSteps = 18;

    /// <summary>Finds the set.</summary>
    /// <param name="fall">Twice the fall at a log density.</param>
    /// <param name="estimate">Log density at which the fall is 0.</param>
    /// <param name="critical">χ²₁ point, &gt; 0.</param>
    /// <param name="straight">The estimate as a ratio of two normal effects, from which the search starts.</param>
    public static ParitySet Of(ParityFall fall, double estimate, double critical, RatioOfEffects straight)
    {
        if (fall.AtEnds() > critical)
        {
            var (below, above) = straight.Ends(critical);
            return new ParitySet(ParityShape.Bounded, Outward(fall, critical, estimate, Start(below, estimate, -1), isRising: true), Outward(fall, critical, estimate, Start(above, estimate, 1), isRising: true));
        }

        var (worst, height) = Worst(fall, straight.Worst, estimate, critical);
        if (height <= critical) return new ParitySet(ParityShape.Everything, null, null);
        double near = Root(fall, critical, estimate, worst), far = Outward(fall, critical, worst, worst + Math.Sign(worst - estimate), isRising: false);
        return new ParitySet(ParityShape.TwoRays, Math.Min(near, far), Math.Max(near, far));
    }

    private static double Start(double? guess, double estimate, int side) =>
        guess is { } end && Math.Sign(end - estimate) == side && Math.Abs(end - estimate) < Farthest ? end : estimate + side;

    /// <summary>Where the fall first crosses the critical value on the way out; the farthest place looked at when it never does.</summary>
    private static double Outward(ParityFall fall, double critical, double from, double to, bool isRising)
    {
        var inner = from;
        while (fall.At(to) > critical != isRising)
        {
            if (Math.Abs(to - from) > Farthest) return to;
            (inner, to) = (to, to + (2 * (to - from)));
        }

        return Root(fall, critical, inner, to);
    }

    /// <summary>Where the root of the fall, which is nearly straight, crosses that of the critical value: regula falsi with the Illinois rule.</summary>
    private static double Root(ParityFall fall, double critical, double a, double b)
    {
        double fa = Off(a), fb = Off(b);
        for (var step = 0; step < MostSteps && Math.Abs(b - a) > Tolerance && Math.Abs(fb) > Tolerance; step++)
        {
            var x = double.IsFinite(fa) && double.IsFinite(fb) ? b - (fb * (b - a) / (fb - fa)) : (a + b) / 2;
            var fx = Off(x);
            if (Math.Sign(fx) != Math.Sign(fb)) (a, fa) = (b, fb);
            else fa /= 2;
            (b, fb) = (x, fx);
        }

        return b;

        double Off(double log) => Math.Sqrt(Math.Max(0, fall.At(log))) - Math.Sqrt(critical);
    }

    /// <summary>The density that fits worst, by golden section around the guess; any that is ruled out will do.</summary>
    private static (double Log, double Height) Worst(ParityFall fall, double? guess, double estimate, double critical)
    {
        if (guess is not { } middle || Math.Abs(middle - estimate) > Farthest) return (estimate, 0);
        if (fall.At(middle) is var height && height > critical) return (middle, height);
        const double golden = 0.6180339887498949;
        var reach = Math.Max(0.5, Math.Abs(middle - estimate) / 2);
        double low = middle - reach, high = middle + reach;
        double a = high - (golden * (high - low)), b = low + (golden * (high - low)), fa = fall.At(a), fb = fall.At(b);
        for (var step = 0; step < GoldenSteps && fa <= critical && fb <= critical; step++)
        {
            if (fa > fb)
            {
                (high, b, fb) = (b, a, fa);
                a = high - (golden * (high - low));
                fa = fall.At(a);
            }
            else
            {
                (low, a, fa) = (a, b, fb);
                b = low + (golden * (high - low));
                fb = fall.At(b);
            }
        }

        return fa > fb ? (a, fa) : (b, fb);
    }
}
