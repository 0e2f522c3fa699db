using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Newton's method on the log-likelihood with a line search: one step at a time, so that whoever drives it may look for a direction that never ends.</summary>
/// <remarks>
/// A step d solves (A + P)·d = g − P·γ, with P the precision of a normal prior (0 without one); where A is not positive definite it is lifted until it is.
/// With a form a, steps stay on aᵀγ = constant (Lagrange). The step is halved until it gains; the last step is taken when the gain it promises is below 1e−11.
/// </remarks>
internal sealed class NewtonAscent
{
    private const double Settled = 1e-11;
    private const int Halvings = 60;
    private readonly double[]? precision, form;
    private readonly double[] factor, trial, along;

    public NewtonAscent(IntervalLikelihood likelihood, double[] start, double[]? precision = null, double[]? form = null)
    {
        (Likelihood, Point, this.precision, this.form) = (likelihood, start, precision, form);
        var k = likelihood.Width;
        (Step, trial, along, factor) = (new double[k], new double[k], new double[k], new double[k * k]);
        Likelihood.At(Point);
        Value = Penalised(Point);
    }

    /// <summary>The likelihood, evaluated at <see cref="Point"/>.</summary>
    public IntervalLikelihood Likelihood { get; }

    /// <summary>The present point.</summary>
    public double[] Point { get; }

    /// <summary>The last step's direction, at full length.</summary>
    public double[] Step { get; }

    /// <summary>Log-likelihood plus log prior at the point.</summary>
    public double Value { get; private set; }

    /// <summary>Number of steps taken.</summary>
    public int Steps { get; private set; }

    /// <summary>∂value/∂(aᵀγ) along the constraint at the point: its Lagrange multiplier. Meaningful after the last step.</summary>
    public double Multiplier { get; private set; }

    /// <summary>Steps until it stops or <paramref name="limit"/> steps are taken in all.</summary>
    /// <returns>The diary; <see cref="NewtonStop.StepLimit"/> when the limit ended it, and then it may be run on.</returns>
    public NewtonDiary Run(int limit)
    {
        var last = 0.0;
        while (Steps < limit)
        {
            var gain = Direction();
            if (!(gain > 0)) return new NewtonDiary(Steps, last, NewtonStop.Converged);
            var length = Search(gain);
            if (length == 0) return new NewtonDiary(Steps, last, gain < Settled ? NewtonStop.Converged : NewtonStop.NoBetterPoint);
            Steps++;
            last = 0;
            for (var j = 0; j < Point.Length; j++) last = Math.Max(last, length * Math.Abs(Step[j]) / Math.Max(1, Math.Abs(Point[j])));
            if (gain < Settled) return new NewtonDiary(Steps, last, NewtonStop.Converged);
        }

        return new NewtonDiary(Steps, last, NewtonStop.StepLimit);
    }

    /// <summary>The information with the prior's precision at the point, k × k.</summary>
    public double[] Curvature()
    {
        var a = (double[])Likelihood.Information.Clone();
        for (var j = 0; j < Point.Length && precision is not null; j++) a[j * Point.Length + j] += precision[j];
        return a;
    }

    /// <summary>Puts the Newton direction into <see cref="Step"/>; returns the gain it promises, twice the height of the local parabola.</summary>
    private double Direction()
    {
        var k = Point.Length;
        Factor();
        for (var j = 0; j < k; j++) Step[j] = Slope(j);
        Cholesky.Solve(factor, k, Step);
        if (form is not null)
        {
            form.CopyTo(along, 0);
            Cholesky.Solve(factor, k, along);
            double across = Dot(form, Step), width = Dot(form, along);
            Multiplier = across / width;
            for (var j = 0; j < k; j++) Step[j] -= along[j] * Multiplier;
        }

        var gain = 0.0;
        for (var j = 0; j < k; j++) gain += Slope(j) * Step[j];
        return gain;
    }

    private void Factor()
    {
        var k = Point.Length;
        var top = 0.0;
        for (var j = 0; j < k; j++) top = Math.Max(top, Math.Abs(Likelihood.Information[j * k + j]));
        for (var lift = 0.0; ; lift = lift == 0 ? 1e-10 * (top > 0 ? top : 1) : lift * 10)
        {
            Likelihood.Information.CopyTo(factor, 0);
            for (var j = 0; j < k; j++) factor[j * k + j] += lift + (precision?[j] ?? 0);
            if (Cholesky.Factor(factor, k)) return;
        }
    }

    /// <summary>Moves to a better point along the step; 0 when there is none, and then the point is as before.</summary>
    private double Search(double gain)
    {
        var length = 1.0;
        for (var halving = 0; halving < Halvings; halving++, length /= 2)
        {
            for (var j = 0; j < Point.Length; j++) trial[j] = Point[j] + length * Step[j];
            Likelihood.At(trial);
            var value = Penalised(trial);
            if (!(value >= Value + 1e-4 * length * gain - 1e-13 * (1 + Math.Abs(Value)))) continue;
            trial.CopyTo(Point, 0);
            Value = value;
            return length;
        }

        Likelihood.At(Point);
        return 0;
    }

    private double Slope(int j) => Likelihood.Score[j] - (precision is null ? 0 : precision[j] * Point[j]);

    private double Penalised(double[] at)
    {
        var value = Likelihood.LogLikelihood;
        for (var j = 0; j < at.Length && precision is not null; j++) value -= precision[j] * at[j] * at[j] / 2;
        return value;
    }

    private static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var j = 0; j < a.Length; j++) sum += a[j] * b[j];
        return sum;
    }
}
