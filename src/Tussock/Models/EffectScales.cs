using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>How wide each column of a table spreads, and coefficients to start a search from.</summary>
internal static class EffectScales
{
    /// <summary>Standard deviation of each column over patterns; for a constant column its own size, 1 when it is 0.</summary>
    public static double[] Of(ModelTable table)
    {
        int k = table.Width, n = table.Patterns;
        var (mean, squares) = (new double[k], new double[k]);
        for (var p = 0; p < n; p++)
            for (var i = 0; i < k; i++) mean[i] += table.X[p * k + i] / n;
        for (var p = 0; p < n; p++)
        {
            for (var i = 0; i < k; i++)
            {
                var off = table.X[p * k + i] - mean[i];
                squares[i] += off * off / n;
            }
        }

        return [.. squares.Select((s, i) => Math.Sqrt(s) is var sd && sd > 1e-9 * Math.Abs(mean[i]) ? sd : mean[i] == 0 ? 1 : Math.Abs(mean[i]))];
    }

    /// <summary>The constant rate on the scale of the link in the first constant column, 0 elsewhere.</summary>
    public static double[] Start(ModelTable table, Link link)
    {
        int k = table.Width;
        var start = new double[k];
        double days = 0, lost = 0;
        for (var p = 0; p < table.Patterns; p++) (days, lost) = (days + table.Watched[p], lost + table.Timed[p]);
        for (var q = 0; q < table.PieceDays.Length; q++) days += table.PieceDays[q] / 2;
        foreach (var weight in table.LossWeight) lost += weight;
        var rate = lost / Math.Max(days, 1e-9);
        for (var i = 0; i < k; i++)
        {
            var first = table.X[i];
            var constant = first != 0;
            for (var p = 1; p < table.Patterns && constant; p++) constant = table.X[p * k + i] == first;
            if (!constant) continue;
            start[i] = (link == Link.LogHazard ? Math.Log(rate) : -Math.Log(Exponentials.Expm1(rate))) / first;
            break;
        }

        return start;
    }
}
