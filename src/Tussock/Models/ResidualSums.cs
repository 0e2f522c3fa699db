using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Adds up observed and expected losses over parts of the table.</summary>
internal static class ResidualSums
{
    /// <summary>Fitted daily hazard of each pattern of the table that is left at the maximum.</summary>
    public static double[] Hazards(EffectsFit fit)
    {
        var eta = fit.Maximum.Ascent.Likelihood.Eta;
        var hazard = new double[eta.Length];
        for (var p = 0; p < hazard.Length; p++) hazard[p] = DailyHazard.Of(fit.Link, eta[p]);
        return hazard;
    }

    public static ImmutableArray<LossResidual> Of(EffectsFit fit, Func<int, int> partOf, int parts, Func<int, string> name)
    {
        var table = fit.Maximum.Columns.Table;
        double[] hazard = Hazards(fit), days = new double[parts], observed = new double[parts], expected = new double[parts], information = new double[parts];
        for (var p = 0; p < table.Patterns; p++)
        {
            var part = partOf(p);
            days[part] += table.Watched[p];
            observed[part] += table.Timed[p];
            expected[part] += table.Watched[p] * hazard[p];
            information[part] += table.Watched[p] * hazard[p];
        }

        for (var loss = 0; loss < table.Losses; loss++)
        {
            double total = 0, most = -1, weight = table.LossWeight[loss];
            var part = 0;
            for (var piece = table.LossPieces[loss]; piece < table.LossPieces[loss + 1]; piece++)
            {
                var p = table.PiecePattern[piece];
                var own = hazard[p] * table.PieceDays[piece];
                if (own > most) (most, part) = (own, partOf(p));
                total += own;
                days[part] += weight * table.PieceDays[piece];
            }

            var terms = LossTerms.At(total, Math.Log(total));
            observed[part] += weight;
            expected[part] += weight * (1 - terms.Slope);
            information[part] -= weight * terms.Slope * terms.Bend;
        }

        return [.. Enumerable.Range(0, parts).Where(i => days[i] > 0 || observed[i] > 0).Select(i => new LossResidual(name(i), days[i], observed[i], expected[i], information[i] > 1e-12 ? (observed[i] - expected[i]) / Math.Sqrt(information[i]) : null))];
    }
}
