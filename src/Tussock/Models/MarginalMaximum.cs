using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Newton's method with line search towards the largest value of a log-likelihood of coefficients and standard deviations.</summary>
/// <remarks>
/// A standard deviation shrinks at most tenfold a step; one that falls below <see cref="Zero"/>, or that heads below a tenth of itself where 0 is known to be a local maximum,
/// is put to exactly 0 and stays there. Ends when the step would raise the log-likelihood by less than 5e−13; that step is still taken.
/// </remarks>
internal sealed class MarginalMaximum(ILikelihood likelihood)
{
    private const double Zero = 1e-3, Enough = 1e-12;

    private const int MostSteps = 100, MostHalvings = 40;

    private readonly Derivatives here = new(likelihood.Size), there = new(likelihood.Size);

    /// <summary>Derivatives at the end.</summary>
    public Derivatives At => here;

    /// <summary>What happened.</summary>
    public NewtonDiary Diary { get; private set; }

    /// <summary>Largest standard deviation that is tried; beyond it the spread has no end.</summary>
    public double LargestSpread { get; init; } = 25;

    /// <summary>Climbs from a point.</summary>
    /// <param name="point">Start on the way in, maximum on the way out.</param>
    /// <param name="free">Which parameters move; a standard deviation that ends at 0 is set unfree.</param>
    /// <param name="zeroIsMaximum">Whether a standard deviation of 0 is known to be a local maximum.</param>
    public void Climb(double[] point, bool[] free, bool zeroIsMaximum)
    {
        var (step, trial, moved) = (new double[point.Length], new double[point.Length], 0.0);
        likelihood.At(point, here);
        for (var steps = 1; steps <= MostSteps; steps++)
        {
            var factor = CurvatureFactor.Of(here, Indexes(free));
            factor.Solve(here.Gradient, step);
            var gain = Dot(step, here.Gradient);
            if (factor.IsPositive && gain < Enough)
            {
                Take(point, step, 1, point);
                here.Value += gain / 2;
                Diary = new NewtonDiary(steps, moved, NewtonStop.Converged);
                return;
            }

            if (ToZero(point, step, free, zeroIsMaximum))
            {
                likelihood.At(point, here);
                continue;
            }

            moved = Search(point, step, trial);
            if (moved < 0 || point.AsSpan(likelihood.Coefficients).Contains(LargestSpread))
            {
                Diary = new NewtonDiary(steps, 0, moved < 0 ? NewtonStop.NoBetterPoint : NewtonStop.StepLimit);
                return;
            }
        }

        Diary = new NewtonDiary(MostSteps, moved, NewtonStop.StepLimit);
    }

    /// <summary>Indexes of what is free.</summary>
    public static int[] Indexes(bool[] free) => [.. Enumerable.Range(0, free.Length).Where(i => free[i])];

    private bool ToZero(double[] point, double[] step, bool[] free, bool zeroIsMaximum)
    {
        var any = false;
        for (var i = likelihood.Coefficients; i < point.Length; i++)
        {
            if (!free[i] || !(point[i] < Zero || (zeroIsMaximum && point[i] + step[i] < 0.1 * point[i]))) continue;
            (point[i], free[i], any) = (0, false, true);
        }

        return any;
    }

    /// <summary>Takes as much of the step as is better; the largest change in standard errors or so, −1 where nothing is better.</summary>
    private double Search(double[] point, double[] step, double[] trial)
    {
        var share = 1.0;
        for (var i = likelihood.Coefficients; i < point.Length; i++)
            if (Math.Abs(step[i]) > 1) share = Math.Min(share, 1 / Math.Abs(step[i]));
        for (var halving = 0; halving < MostHalvings; halving++, share /= 2)
        {
            Take(point, step, share, trial);
            likelihood.At(trial, there);
            if (!(there.Value >= here.Value - 1e-13 * (1 + Math.Abs(here.Value)) && Array.TrueForAll(there.Gradient, double.IsFinite) && Array.TrueForAll(there.Second, double.IsFinite))) continue;
            var moved = 0.0;
            for (var i = 0; i < point.Length; i++) moved = Math.Max(moved, Math.Abs(trial[i] - point[i]) / (1e-3 + Math.Abs(trial[i])));
            trial.CopyTo(point, 0);
            here.Clear();
            here.Add(there);
            return moved;
        }

        return -1;
    }

    private void Take(double[] point, double[] step, double share, double[] to)
    {
        for (var i = 0; i < point.Length; i++)
        {
            var next = point[i] + share * step[i];
            to[i] = i < likelihood.Coefficients ? next : point[i] == 0 ? 0 : Math.Clamp(next, 0.1 * point[i], LargestSpread);
        }
    }

    private static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++) sum += a[i] * b[i];
        return sum;
    }
}
