using System.Numerics;
using Tussock.Models;

namespace Tussock.Tests.Models;

/// <summary>The likelihood of visit intervals written down as it is defined, with complex numbers so that its derivatives come from complex steps: f′(x) = Im f(x + iε)/ε without a difference.</summary>
public static class SlowLikelihood
{
    private const double Step = 1e-30;

    public static double Value(ModelTable table, Link link, double[] beta) => At(table, link, [.. beta.Select(b => (Complex)b)]).Real;

    public static double[] Score(ModelTable table, Link link, double[] beta) =>
        [.. beta.Select((_, j) => At(table, link, Stepped(beta, j)).Imaginary / Step)];

    /// <summary>Minus the second derivatives: complex steps of the score, which is itself written down with complex numbers.</summary>
    public static double[] Information(ModelTable table, Link link, double[] beta)
    {
        var information = new double[beta.Length * beta.Length];
        for (var j = 0; j < beta.Length; j++)
        {
            var score = ScoreAt(table, link, Stepped(beta, j));
            for (var i = 0; i < beta.Length; i++) information[i * beta.Length + j] = -score[i].Imaginary / Step;
        }

        return information;
    }

    private static Complex[] Stepped(double[] beta, int j) => [.. beta.Select((b, i) => new Complex(b, i == j ? Step : 0))];

    private static Complex At(ModelTable table, Link link, Complex[] beta)
    {
        Complex sum = 0;
        for (var p = 0; p < table.Patterns; p++)
        {
            var h = Hazard(link, Eta(table, p, beta));
            sum -= table.Watched[p] * h;
            if (table.Timed[p] > 0) sum += table.Timed[p] * Complex.Log(h);
        }

        for (var loss = 0; loss < table.Losses; loss++) sum += table.LossWeight[loss] * Complex.Log(1 - Complex.Exp(-Total(table, link, loss, beta)));
        return sum;
    }

    private static Complex[] ScoreAt(ModelTable table, Link link, Complex[] beta)
    {
        var score = new Complex[beta.Length];
        for (var p = 0; p < table.Patterns; p++)
        {
            var eta = Eta(table, p, beta);
            Add(table, p, score, Slope(link, eta) * (table.Timed[p] / Hazard(link, eta) - table.Watched[p]));
        }

        for (var loss = 0; loss < table.Losses; loss++)
        {
            var survived = Complex.Exp(-Total(table, link, loss, beta));
            var odds = survived / (1 - survived);
            for (var piece = table.LossPieces[loss]; piece < table.LossPieces[loss + 1]; piece++)
                Add(table, table.PiecePattern[piece], score, table.LossWeight[loss] * odds * table.PieceDays[piece] * Slope(link, Eta(table, table.PiecePattern[piece], beta)));
        }

        return score;
    }

    private static void Add(ModelTable table, int p, Complex[] score, Complex by)
    {
        for (var j = 0; j < score.Length; j++) score[j] += table.Row(p)[j] * by;
    }

    private static Complex Total(ModelTable table, Link link, int loss, Complex[] beta)
    {
        Complex total = 0;
        for (var piece = table.LossPieces[loss]; piece < table.LossPieces[loss + 1]; piece++) total += table.PieceDays[piece] * Hazard(link, Eta(table, table.PiecePattern[piece], beta));
        return total;
    }

    private static Complex Eta(ModelTable table, int p, Complex[] beta)
    {
        Complex eta = table.Offset[p];
        for (var j = 0; j < beta.Length; j++) eta += table.Row(p)[j] * beta[j];
        return eta;
    }

    private static Complex Hazard(Link link, Complex eta) => link == Link.LogHazard ? Complex.Exp(eta) : Complex.Log(1 + Complex.Exp(-eta));

    private static Complex Slope(Link link, Complex eta) => link == Link.LogHazard ? Complex.Exp(eta) : -1 / (1 + Complex.Exp(eta));
}
