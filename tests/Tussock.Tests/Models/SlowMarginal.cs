using Tussock.Models;
using Tussock.Numerics;

namespace Tussock.Tests.Models;

/// <summary>The marginal log-likelihood of a random intercept by the trapezoidal rule on 2,000 points: slow and obvious.</summary>
public static class SlowMarginal
{
    private const int Points = 2000;

    private const double End = 12;

    /// <summary>Σ_g log ∫ exp(L_g(β, σz)) φ(z) dz.</summary>
    public static double Of(ModelTable table, Link link, ReadOnlySpan<double> beta, double sigma)
    {
        var eta = new double[table.Patterns];
        for (var p = 0; p < table.Patterns; p++)
        {
            eta[p] = table.Offset[p];
            for (var i = 0; i < table.Width; i++) eta[p] += table.Row(p)[i] * beta[i];
        }

        return Enumerable.Range(0, table.Groups).Sum(g => Group(table, link, eta, g, sigma));
    }

    private static double Group(ModelTable table, Link link, double[] eta, int group, double sigma)
    {
        var logs = new double[Points + 1];
        for (var k = 0; k <= Points; k++)
        {
            var z = -End + 2 * End * k / Points;
            logs[k] = LogLikelihood(table, link, eta, group, sigma * z) - z * z / 2;
        }

        var highest = logs.Max();
        return highest + Math.Log(logs.Sum(l => Math.Exp(l - highest)) * 2 * End / Points / Math.Sqrt(2 * Math.PI));
    }

    private static double LogLikelihood(ModelTable table, Link link, double[] eta, int group, double shift)
    {
        var sum = 0.0;
        for (var p = table.GroupPatterns[group]; p < table.GroupPatterns[group + 1]; p++)
        {
            var h = DailyHazard.Of(link, eta[p] + shift);
            sum -= table.Watched[p] * h;
            if (table.Timed[p] > 0) sum += table.Timed[p] * Math.Log(h);
        }

        for (var l = table.GroupLosses[group]; l < table.GroupLosses[group + 1]; l++)
        {
            var h = 0.0;
            for (var q = table.LossPieces[l]; q < table.LossPieces[l + 1]; q++) h += table.PieceDays[q] * DailyHazard.Of(link, eta[table.PiecePattern[q]] + shift);
            sum += table.LossWeight[l] * LogOneMinusExp.At(h);
        }

        return sum;
    }
}
