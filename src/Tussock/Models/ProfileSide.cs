using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>One end of a profile-likelihood set of a linear form aᵀγ: the search for the b at which the root of the likelihood ratio r(b) = √(2(ℓ̂ − ℓ(b))) reaches z.</summary>
internal sealed class ProfileSide
{
    private const int MostSteps = 60;
    private const double Close = 1e-9;

    /// <summary>Beyond this change of some linear predictor nothing can happen any more.</summary>
    private const double Beyond = 1000;

    /// <summary>A profile that promises less than this over twice the way has no end.</summary>
    private const double Level = 1e-10;

    private readonly IntervalLikelihood likelihood;
    private readonly double[] form;
    private readonly double top, z, side, reach;
    private double[] point, tangent;
    private double place, root, slope;

    public ProfileSide(EffectsFit fit, double[] raw, double level, int side)
    {
        var columns = fit.Maximum.First;
        likelihood = new IntervalLikelihood(columns.Table, fit.Link, columns.Scaled, columns.Width);
        form = columns.Form([.. columns.Kept.Select(column => raw[column])]);
        (top, z, this.side) = (fit.LogLikelihood, Math.Sqrt(Tails.ChiSquareQuantile(level, 1)), side);
        point = (double[])(fit.IsSeparated ? fit.WithPrior.Scaled : fit.Maximum.Ascent.Point).Clone();
        place = Dot(form, point);
        tangent = new NewtonAscent(likelihood, (double[])point.Clone(), form: form).Tangent();
        reach = Dot(form, form);
    }

    /// <summary>The end; null when the set has none on this side.</summary>
    public double? Limit()
    {
        Move(place);
        if (root >= z && !Enter()) return null;
        double inside = place, step = FirstStep();
        double? outside = null;
        for (var turn = 0; turn < MostSteps; turn++)
        {
            var next = Next(inside, outside, step);
            if (Math.Abs(next - inside) > Beyond * Math.Sqrt(reach)) return null;
            Move(next);
            if (Math.Abs(root - z) <= Close * z) return place;
            if (root >= z) outside = place;
            else if (outside is null && Math.Abs(slope) * Math.Abs(place - inside) < Level && turn > 2) return null;
            else (step, inside) = (outside is null ? 2 * Math.Abs(place - inside) + step : step, place);
            if (outside is { } far && Math.Abs(far - inside) <= 1e-13 * (1 + Math.Abs(far))) return place;
        }

        return place;
    }

    /// <summary>Where to look next: Newton on the root if it stays on the right side of the bracket, else half-way or on.</summary>
    private double Next(double inside, double? outside, double step)
    {
        var newton = root > 0.1 * z && slope != 0 ? place + (root - z) * root / slope : double.NaN;
        if (outside is { } far)
        {
            var share = (newton - inside) / (far - inside);
            return share is > 0 and < 1 ? newton : (inside + far) / 2;
        }

        var way = side * (newton - inside);
        return way > 0 && way <= step ? newton : inside + side * step;
    }

    /// <summary>Walks from a start outside the set uphill until it is inside.</summary>
    private bool Enter()
    {
        var step = FirstStep();
        for (var turn = 0; turn < MostSteps && root >= z; turn++, step *= 2)
        {
            if (Math.Abs(slope) * step < Level) return false;
            Move(place + Math.Sign(slope) * step);
        }

        return root < z;
    }

    private double FirstStep()
    {
        var factor = (double[])likelihood.Information.Clone();
        var along = (double[])form.Clone();
        if (!Cholesky.Factor(factor, form.Length)) return Math.Sqrt(reach);
        Cholesky.Solve(factor, form.Length, along);
        return Math.Min(z * Math.Sqrt(Dot(form, along)), 4 * Math.Sqrt(reach));
    }

    /// <summary>The constrained maximum at b, from the last one moved along its tangent.</summary>
    private void Move(double b)
    {
        var shift = b - Dot(form, point);
        var start = new double[point.Length];
        for (var j = 0; j < start.Length; j++) start[j] = point[j] + shift * tangent[j];
        var ascent = new NewtonAscent(likelihood, start, form: form);
        ascent.Run(MostSteps);
        tangent = ascent.Tangent();
        (point, place, slope, root) = (ascent.Point, b, ascent.Multiplier, Math.Sqrt(Math.Max(0, 2 * (top - ascent.Value))));
    }

    private static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var j = 0; j < a.Length; j++) sum += a[j] * b[j];
        return sum;
    }
}
