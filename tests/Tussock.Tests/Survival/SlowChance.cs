using Tussock.Fates;

namespace Tussock.Tests.Survival;

/// <summary>
/// The chance once more, slow and obvious: no tables, no panels; bisection for β, a sum over z and over a plain grid. Two Gauss points a cell in each direction.
/// </summary>
internal static class SlowChance
{
    public static (double Chance, double MeanLogit, double MeanSpread) Of(NestSpans nests, double phi)
    {
        double all = 0, above = 0, logits = 0, spreads = 0;
        const double width = 0.25, sdWidth = 0.2;
        for (var cell = -30; cell < 30; cell++)
        {
            foreach (var side in new[] { -1, 1 })
            {
                var logit = (cell + 0.5 + (side / Math.Sqrt(12))) * width;
                for (var node = 0; node < 50; node++)
                {
                    var sd = ((node / 2) + 0.5 + ((node % 2 == 0 ? -1 : 1) / Math.Sqrt(12))) * sdWidth;
                    var weight = Math.Exp((-logit * logit / 4.5) - (sd * sd / 2)) * Likelihood(nests, phi, Beta(logit, sd), sd);
                    all += weight;
                    if (logit > 0) above += weight;
                    logits += weight * logit;
                    spreads += weight * sd;
                }
            }
        }

        return (above / all, logits / all, spreads / all);
    }

    private static double Normal(Func<double, double> f)
    {
        const double step = 0.125;
        var sum = 0.0;
        for (var z = -7.0; z <= 7; z += step) sum += f(z) * Math.Exp(-z * z / 2);
        return sum * step / Math.Sqrt(2 * Math.PI);
    }

    private static double Beta(double logit, double sd)
    {
        double low = -40, high = 40;
        for (var i = 0; i < 45; i++)
        {
            var beta = (low + high) / 2;
            if (Normal(z => Math.Exp(-Math.Exp(beta + (sd * z)))) > 1 / (1 + Math.Exp(-logit))) low = beta;
            else high = beta;
        }

        return low;
    }

    private static double Likelihood(NestSpans nests, double phi, double beta, double sd)
    {
        var product = 1.0;
        foreach (var line in nests.Line.Distinct())
        {
            product *= Normal(z =>
            {
                double hazard = Math.Exp(beta + (sd * z)), p = 1;
                for (var row = 0; row < nests.Count; row++) if (nests.Line[row] == line) p *= Chance(nests, row, phi, hazard);
                return p;
            });
        }

        return product;
    }

    private static double Chance(NestSpans nests, int row, double phi, double hazard)
    {
        double Shape(double day) => day <= 14 ? phi * day / 14 : phi + ((1 - phi) * (day - 14) / 14);
        if (!double.IsNaN(nests.LostAt[row]))
        {
            var t = nests.LostAt[row];
            return hazard * (t <= 14 ? phi / 14 : (1 - phi) / 14) * Math.Exp(-hazard * Shape(t));
        }

        var kept = Math.Exp(-hazard * Shape(nests.LastIntact[row]));
        return double.IsPositiveInfinity(nests.FirstLost[row]) ? kept : kept - Math.Exp(-hazard * Shape(nests.FirstLost[row]));
    }
}
