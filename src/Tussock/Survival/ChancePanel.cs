using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>One panel of the posterior of logit π: its density as a polynomial through Gauss–Legendre nodes.</summary>
internal sealed class ChancePanel
{
    private static readonly GaussLegendre Rule = GaussLegendre.Of(ChancePosterior.Size);
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
            var a = Coefficients(p);
            worst = Math.Max(worst, (Math.Abs(a[^1]) + Math.Abs(a[^2])) / totals[p]);
        }

        return worst;
    }

    /// <summary>Logit at which the panel has collected <paramref name="mass"/> of its weight under the prior of record; bisection.</summary>
    public double Quantile(double mass)
    {
        var a = Coefficients(0);
        double low = -1, high = 1;
        for (var step = 0; step < 60; step++)
        {
            var x = (low + high) / 2;
            if (Collected(a, x) < mass) low = x;
            else high = x;
        }

        return Low + ((High - Low) / 2 * (1 + low));
    }

    /// <summary>Coefficients a_k of the weight's density on (−1, 1): Σ a_k·P_k(x).</summary>
    private double[] Coefficients(int prior)
    {
        var a = new double[Logits.Length];
        for (var i = 0; i < a.Length; i++)
        {
            double before = 0, now = 1, x = Rule.Nodes[i];
            for (var k = 0; k < a.Length; k++)
            {
                a[k] += (k + 0.5) * marginal[prior][i] * now;
                (before, now) = (now, ((((2 * k) + 1) * x * now) - (k * before)) / (k + 1));
            }
        }

        return a;
    }

    /// <summary>∫ from −1 to x; the integral of P_k is (P_(k+1) − P_(k−1))/(2k + 1).</summary>
    private static double Collected(double[] a, double x)
    {
        double before = 1, now = x, sum = a[0] * (1 + x);
        for (var k = 1; k < a.Length; k++)
        {
            var next = ((((2 * k) + 1) * x * now) - (k * before)) / (k + 1);
            sum += a[k] * (next - before) / ((2 * k) + 1);
            (before, now) = (now, next);
        }

        return sum;
    }
}
