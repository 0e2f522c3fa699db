using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>
/// Survival averaged over lines, π = ∫ exp(−exp(β + τz))φ(z)dz, and its inverse: the mean log cumulative hazard β that gives a
/// logit π at a sd τ of the lines.
/// </summary>
/// <remarks>
/// The inverse needs no data: it is solved once, on a grid of logit π in [−15, 15] and τ in [0, 10] (Newton's method, trapezoidal
/// rule in u), and interpolated by polynomials through 10 neighbours in each direction, absolute error below 1e−7. β is even in τ.
/// </remarks>
internal static class AverageSurvival
{
    /// <summary>Largest |logit π| of the grid.</summary>
    public const double LogitEnd = 15;

    /// <summary>Largest τ of the grid.</summary>
    public const double SdEnd = 10;

    private const double LogitStep = 0.25;
    private const double SdStep = 0.125;
    private const int Logits = 121;
    private const int Sds = 81;
    private static readonly Interpolation Neighbours = new(10);
    private static readonly Lazy<double[][]> Grid = new(Solve);

    /// <summary>β at each pair of τ and logit.</summary>
    /// <param name="logits">Logit π, ascending, each in [−15, 15].</param>
    /// <param name="sds">τ, each in [0, 10].</param>
    /// <returns>One row a τ, one column a logit.</returns>
    public static double[,] Betas(double[] logits, double[] sds)
    {
        var places = new int[logits.Length];
        var weights = new double[logits.Length * Neighbours.Nodes];
        for (var i = 0; i < logits.Length; i++)
        {
            var x = (logits[i] + LogitEnd) / LogitStep;
            places[i] = Math.Clamp((int)Math.Floor(x) - 4, 0, Logits - Neighbours.Nodes);
            Neighbours.Add(x - places[i], 1, weights.AsSpan(i * Neighbours.Nodes, Neighbours.Nodes));
        }

        var betas = new double[sds.Length, logits.Length];
        Span<double> column = stackalloc double[Logits];
        for (var t = 0; t < sds.Length; t++)
        {
            Column(sds[t], places[0], places[^1] + Neighbours.Nodes, column);
            for (var i = 0; i < logits.Length; i++)
            {
                var near = column.Slice(places[i], Neighbours.Nodes);
                var w = weights.AsSpan(i * Neighbours.Nodes, Neighbours.Nodes);
                var beta = 0.0;
                for (var j = 0; j < w.Length; j++) beta += w[j] * near[j];
                betas[t, i] = beta;
            }
        }

        return betas;
    }

    /// <summary>The grid between its rows, at one τ, for the columns from <paramref name="low"/> to before <paramref name="high"/>.</summary>
    private static void Column(double sd, int low, int high, Span<double> column)
    {
        var grid = Grid.Value;
        var x = sd / SdStep;
        var from = Math.Min((int)Math.Floor(x) - 4, Sds - Neighbours.Nodes);
        Span<double> weights = stackalloc double[Neighbours.Nodes];
        Neighbours.Add(x - from, 1, weights);
        column.Clear();
        for (var j = 0; j < weights.Length; j++)
        {
            var source = grid[Math.Abs(from + j)];
            for (var i = low; i < high; i++) column[i] += weights[j] * source[i];
        }
    }

    private static double[][] Solve()
    {
        var tables = new Tables();
        var grid = new double[Sds][];
        grid[0] = new double[Logits];
        for (var i = 0; i < Logits; i++) grid[0][i] = Math.Log(SoftPlus(LogitEnd - (i * LogitStep)));
        for (var s = 1; s < Sds; s++)
        {
            grid[s] = new double[Logits];
            for (var i = 0; i < Logits; i++)
            {
                var start = s < 3 ? grid[s - 1][i] : (3 * grid[s - 1][i]) - (3 * grid[s - 2][i]) + grid[s - 3][i];
                grid[s][i] = tables.Solve((i * LogitStep) - LogitEnd, s * SdStep, start);
            }
        }

        return grid;
    }

    /// <summary>log(1 + e^x) without overflow or loss of digits.</summary>
    private static double SoftPlus(double x) => x > 0 ? x - LogOneMinusExp.At(x) + LogOneMinusExp.At(2 * x) : Math.Abs(x) < 1e-300 ? Math.Log(2) : LogOneMinusExp.At(-2 * x) - LogOneMinusExp.At(-x);

    /// <summary>Survival, loss and slope of a single line on u = k/8, and Newton's method with sums over them.</summary>
    private sealed class Tables
    {
        private const int Low = -8 * 40;
        private const int High = 8 * 5;
        private readonly double[] survive = new double[High - Low + 1];
        private readonly double[] lose = new double[High - Low + 1];
        private readonly double[] slope = new double[High - Low + 1];
        private readonly NormalWeights weights = new();

        public Tables()
        {
            for (var k = Low; k <= High; k++)
            {
                var x = Math.Exp(k / 8.0);
                survive[k - Low] = Math.Exp(-x);
                lose[k - Low] = Math.Exp(LogOneMinusExp.At(x));
                slope[k - Low] = -x * Math.Exp(-x);
            }
        }

        public double Solve(double logit, double sd, double start)
        {
            var beta = start;
            for (var step = 0; step < 60; step++)
            {
                var (kept, lost, fall) = Sums(beta, sd);
                var change = Math.Clamp(-(Math.Log(kept / lost) - logit) * kept * lost / fall, -1, 1);
                beta += change;
                if (Math.Abs(change) < 1e-8) break;
            }

            return beta;
        }

        private (double Kept, double Lost, double Fall) Sums(double beta, double sd)
        {
            var stride = sd < 0.25 ? 1 : sd < 0.5 ? 2 : 4;
            weights.Trapezoid(beta, sd, stride / 8.0, Low / stride, High / stride, true);
            double kept = weights.Below, lost = weights.Above, fall = 0;
            var from = Math.Max(weights.First, Low / stride);
            var count = Math.Min(weights.First + weights.Count, (High / stride) + 1) - from;
            if (count <= 0) return (kept, lost, fall);
            var at = (from * stride) - Low;
            foreach (var w in weights.Values.Slice(from - weights.First, count))
            {
                kept += w * survive[at];
                lost += w * lose[at];
                fall += w * slope[at];
                at += stride;
            }

            return (kept, lost, fall);
        }
    }
}
