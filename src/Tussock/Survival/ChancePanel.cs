using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>One panel of the posterior of logit π: its density as a polynomial through Gauss–Legendre nodes.</summary>
internal sealed class ChancePanel
{
    private const int QuantileSteps = 32;
    private const double Least = 1e-300;
    private static readonly GaussLegendre Rule = GaussLegendre.Of(ChancePosterior.Size);
    private static readonly double[] Projection = Projected();
    private readonly double[][,] weights;
    private readonly double[][] marginal;

    /// <param name="low">Lower edge.</param>
    /// <param name="high">Upper edge.</param>
    /// <param name="weights">For each prior: weight of (node, τ).</param>
    /// <param name="logits">Nodes.</param>
    public ChancePanel(double low, double high, double[][,] weights, double[] logits)
    {
        (Low, High, this.weights, Logits) = (low, high, weights, logits);
        marginal = new double[weights.Length][];
        for (var p = 0; p < weights.Length; p++)
        {
            marginal[p] = new double[logits.Length];
            for (var i = 0; i < logits.Length; i++)
            {
                for (var t = 0; t < weights[p].GetLength(1); t++) marginal[p][i] += weights[p][i, t];
            }
        }
    }

    public double Low { get; }

    public double High { get; }

    /// <summary>Nodes, ascending.</summary>
    public double[] Logits { get; }

    /// <summary>Weight of (node, τ) under the prior of record.</summary>
    public double[,] Weights => weights[0];

    /// <summary>Weight of each node under the prior of record, summed over τ.</summary>
    public double[] Marginal => marginal[0];

    /// <summary>Weight of the panel under a prior.</summary>
    public double Mass(int prior)
    {
        var sum = 0.0;
        foreach (var w in marginal[prior]) sum += w;
        return sum;
    }

    /// <summary>The panel's last two Legendre coefficients as a share of the total, the worst over priors.</summary>
    public double Roughness(double[] totals)
    {
        var worst = 0.0;
        for (var p = 0; p < totals.Length; p++)
        {
            var a = Coefficients(marginal[p]);
            worst = Math.Max(worst, (Math.Abs(a[^1]) + Math.Abs(a[^2])) / totals[p]);
        }

        return worst;
    }

    /// <summary>Logit at which the panel has collected <paramref name="mass"/> of its weight under the prior of record; bisection.</summary>
    public double Quantile(double mass)
    {
        var log = LogDensity();
        var scale = Mass(0) / Collected(log, 1);
        double low = -1, high = 1;
        for (var step = 0; step < QuantileSteps; step++)
        {
            var x = (low + high) / 2;
            if (Collected(log, x) * scale < mass) low = x;
            else high = x;
        }

        return Low + ((High - Low) / 2 * (1 + low));
    }

    /// <summary>Coefficients of the logarithm of the density, which is far nearer a polynomial than the density.</summary>
    private double[] LogDensity()
    {
        var logs = new double[Logits.Length];
        for (var i = 0; i < logs.Length; i++) logs[i] = Math.Log(Math.Max(Least, Marginal[i] / Rule.Weights[i]));
        for (var i = 0; i < logs.Length; i++) logs[i] *= Rule.Weights[i];
        return Coefficients(logs);
    }

    /// <summary>∫ of the density from −1 to x.</summary>
    private static double Collected(double[] log, double x)
    {
        var sum = 0.0;
        for (var i = 0; i < Rule.Nodes.Length; i++) sum += Rule.Weights[i] * Math.Exp(Value(log, ((1 + x) / 2 * (1 + Rule.Nodes[i])) - 1));
        return sum * (1 + x) / 2;
    }

    /// <summary>Σ a_k·P_k(x).</summary>
    private static double Value(double[] a, double x)
    {
        double before = 0, now = 1, sum = 0;
        for (var k = 0; k < a.Length; k++)
        {
            sum += a[k] * now;
            (before, now) = (now, ((((2 * k) + 1) * x * now) - (k * before)) / (k + 1));
        }

        return sum;
    }

    /// <summary>Coefficients a_k on (−1, 1) of the function Σ a_k·P_k(x), from its values at the nodes times their weights.</summary>
    private static double[] Coefficients(double[] weighted)
    {
        var a = new double[weighted.Length];
        for (var i = 0; i < a.Length; i++) for (var k = 0; k < a.Length; k++) a[k] += Projection[(i * a.Length) + k] * weighted[i];
        return a;
    }

    /// <summary>(k + ½)·P_k at each node.</summary>
    private static double[] Projected()
    {
        var size = Rule.Nodes.Length;
        var all = new double[size * size];
        for (var i = 0; i < size; i++)
        {
            double before = 0, now = 1, x = Rule.Nodes[i];
            for (var k = 0; k < size; k++)
            {
                all[(i * size) + k] = (k + 0.5) * now;
                (before, now) = (now, ((((2 * k) + 1) * x * now) - (k * before)) / (k + 1));
            }
        }

        return all;
    }
}
