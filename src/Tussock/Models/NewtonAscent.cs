using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Newton's method on the log-likelihood with a line search: one step at a time, so that whoever drives it may look for a direction that never ends.</summary>
/// <remarks>
/// A step d solves (A + P)·d = g − P·γ, with P the precision of a normal prior (0 without one); where A is not positive definite it is lifted until it is.
/// With a form a, steps stay on aᵀγ = constant: the entry with the largest |a| follows the others, so that a likelihood that is flat along a does no harm. The step is halved until it gains; the last step is taken when the gain it promises is below 1e−11.
/// </remarks>
internal sealed class NewtonAscent
{
    private const double Settled = 1e-11;
    private const int Halvings = 60;
    private readonly double[]? precision, form;
    private readonly double[] factor, trial, free;
    private readonly int pivot = -1;

    public NewtonAscent(IntervalLikelihood likelihood, double[] start, double[]? precision = null, double[]? form = null)
    {
        (Likelihood, Point, this.precision, this.form) = (likelihood, start, precision, form);
        var k = likelihood.Width;
        (Step, trial, free, factor) = (new double[k], new double[k], new double[k], new double[k * k]);
        for (var j = 0; j < k && form is not null; j++) if (pivot < 0 || Math.Abs(form[j]) > Math.Abs(form[pivot])) pivot = j;
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

    /// <summary>How the constrained maximum changes with aᵀγ: the Lagrange multiplier, once it is reached.</summary>
    public double Multiplier => Slope(pivot) / form![pivot];

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

    /// <summary>How the constrained maximum moves, to first order, when aᵀγ grows by 1.</summary>
    public double[] Tangent()
    {
        var k = Point.Length;
        var tangent = new double[k];
        if (!Factor()) return tangent;
        for (var i = 0; i < k; i++) if (i != pivot) free[Place(i)] = -(Likelihood.Information[i * k + pivot] - form![i] / form[pivot] * Likelihood.Information[pivot * k + pivot]) / form[pivot];
        Cholesky.Solve(factor, k - 1, free);
        Spread(tangent);
        tangent[pivot] += 1 / form![pivot];
        return tangent;
    }

    /// <summary>Puts the Newton direction into <see cref="Step"/>; returns the gain it promises, twice the height of the local parabola.</summary>
    private double Direction()
    {
        var k = Point.Length;
        for (var lift = 0.0; !Factor(lift);) lift = lift == 0 ? 1e-10 * Largest() : lift * 10;
        for (var j = 0; j < k; j++) if (j != pivot) free[Place(j)] = pivot < 0 ? Slope(j) : Slope(j) - form![j] / form[pivot] * Slope(pivot);
        Cholesky.Solve(factor, pivot < 0 ? k : k - 1, free);
        Spread(Step);
        var gain = 0.0;
        for (var j = 0; j < k; j++) gain += Slope(j) * Step[j];
        return gain;
    }

    /// <summary>Factors the information with prior and lift, reduced to the entries that are free; false when it is not positive definite.</summary>
    private bool Factor(double lift = 0)
    {
        int k = Point.Length, n = pivot < 0 ? k : k - 1;
        var a = Likelihood.Information;
        for (var i = 0; i < k; i++)
        {
            if (i == pivot) continue;
            for (var j = 0; j < k; j++)
            {
                if (j == pivot) continue;
                var entry = a[i * k + j];
                if (pivot >= 0)
                {
                    double ci = form![i] / form[pivot], cj = form[j] / form[pivot];
                    entry += ci * cj * a[pivot * k + pivot] - ci * a[pivot * k + j] - cj * a[i * k + pivot];
                }

                factor[Place(i) * n + Place(j)] = i == j ? entry + lift + (precision?[j] ?? 0) : entry;
            }
        }

        return Cholesky.Factor(factor, n);
    }

    /// <summary>Place of an entry among the free ones; the pivot's is never used.</summary>
    private int Place(int entry) => pivot >= 0 && entry > pivot ? entry - 1 : Math.Min(entry, free.Length - 1);

    /// <summary>Free entries as a direction, the pivot following.</summary>
    private void Spread(double[] direction)
    {
        for (var j = 0; j < direction.Length; j++) direction[j] = j == pivot ? 0 : free[Place(j)];
        for (var j = 0; j < direction.Length && pivot >= 0; j++) if (j != pivot) direction[pivot] -= form![j] / form[pivot] * direction[j];
    }

    private double Largest()
    {
        var top = 0.0;
        for (var j = 0; j < Point.Length; j++) top = Math.Max(top, Math.Abs(Likelihood.Information[j * Point.Length + j]));
        return top > 0 ? top : 1;
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
}
