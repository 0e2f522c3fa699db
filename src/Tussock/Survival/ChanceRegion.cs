using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>The rectangle of (logit π, τ) outside which the posterior is nothing, under any of the priors.</summary>
/// <param name="LogitLow">Lower end of logit π.</param>
/// <param name="LogitHigh">Upper end.</param>
/// <param name="SdLow">Lower end of τ.</param>
/// <param name="SdHigh">Upper end.</param>
/// <param name="Peak">Largest log-likelihood that was met.</param>
/// <param name="Centre">Rough posterior mean of logit π under the prior of record.</param>
/// <param name="Width">Rough posterior standard deviation of logit π.</param>
internal readonly record struct ChanceRegion(double LogitLow, double LogitHigh, double SdLow, double SdHigh, double Peak, double Centre, double Width)
{
    /// <summary>Half-width of the two middle panels, in rough standard deviations.</summary>
    private const double Middle = 2.5;

    /// <summary>Log units below the peak at which a cell is dropped: what is lost is about 1e−8.</summary>
    private const double Depth = 18;

    private const double WidestStep = 0.3;
    private const double StepInSds = 1.1;
    private const int FewestSteps = 14;
    private const int Columns = 12;
    private const int Rows = 8;
    private const int MostRounds = 25;

    /// <summary>Starts with a generous guess, or with all that the priors allow, keeps the cells within <see cref="Depth"/> of the peak and one around them, and looks again, finer.</summary>
    /// <remarks>
    /// While logit π is still coarse the cells nearest a narrow ridge favour too large a τ, which would hide what lies at small τ:
    /// the lower end of τ rises only once logit π has stopped shrinking. A region whose edge is still heavy grows there.
    /// </remarks>
    public static ChanceRegion Of(LikelihoodGrid grid)
    {
        var region = Guess(grid);
        for (var round = 0; round < MostRounds; round++)
        {
            var next = region.Narrowed(grid);
            var isSettled = next.LogitHigh - next.LogitLow > 0.7 * (region.LogitHigh - region.LogitLow) && next.SdHigh - next.SdLow > 0.7 * (region.SdHigh - region.SdLow)
                && next.LogitLow >= region.LogitLow && next.LogitHigh <= region.LogitHigh && next.SdLow >= region.SdLow && next.SdHigh <= region.SdHigh;
            region = next;
            if (isSettled) break;
        }

        return region;
    }

    /// <summary>About six standard deviations around the pooled hazard, for lines that differ as lines do; where it is too small the search grows it, so it costs no digit.</summary>
    private static ChanceRegion Guess(LikelihoodGrid grid)
    {
        var all = new ChanceRegion(-AverageSurvival.LogitEnd, AverageSurvival.LogitEnd, 0, AverageSurvival.SdEnd, 0, 0, 1);
        var (lost, hazard) = grid.Pooled;
        if (lost < 1 || grid.Lines < 3 || !(hazard is > 0.01 and < 5)) return all;
        var logit = -Math.Log(Exponentials.Expm1(hazard));
        var reach = 1 + (6 * Math.Sqrt((2 / lost) + (0.7 / grid.Lines)));
        return all with { LogitLow = Math.Max(all.LogitLow, logit - reach), LogitHigh = Math.Min(all.LogitHigh, logit + reach), SdHigh = Math.Clamp(20.0 / grid.Lines, 3, all.SdHigh) };
    }

    /// <summary>Edges of panels in logit π: two narrow ones in the middle, one for each tail, and an edge at the benchmark when it lies inside.</summary>
    public double[] LogitEdges(double benchmark)
    {
        var edges = new List<double> { LogitLow };
        foreach (var edge in (ReadOnlySpan<double>)[Centre - (Middle * Width), Centre, Centre + (Middle * Width)])
            if (edge > edges[^1] + (Width / 2) && edge < LogitHigh - (Width / 2)) edges.Add(edge);
        edges.Add(LogitHigh);
        if (benchmark <= LogitLow || benchmark >= LogitHigh) return [.. edges];
        var next = edges.FindIndex(e => e >= benchmark);

        // An edge nearby moves to the benchmark: a sliver of a panel would cost as much as a wide one.
        if (next < edges.Count - 1 && edges[next] - benchmark < Width / 2) edges[next] = benchmark;
        else if (next > 1 && benchmark - edges[next - 1] < Width / 2) edges[next - 1] = benchmark;
        else edges.Insert(next, benchmark);
        return [.. edges];
    }

    /// <summary>Nodes in τ: even steps in y, τ = w·sinh y with w the width of the sharpest line, so that τ is even below w and its logarithm above.</summary>
    /// <remarks>m lines know log τ to about 1/√(2m). The likelihood is smooth in τ² from 0 on, so its sums with end weights of ½ converge like exp(−const/step).</remarks>
    public SpreadNodes Spreads(double sharpest, int lines)
    {
        double from = Math.Asinh(SdLow / sharpest), to = Math.Asinh(SdHigh / sharpest);
        var step = Math.Min(WidestStep, StepInSds / Math.Sqrt(2 * lines));
        return SpreadNodes.Of(sharpest, from, to, Math.Max(FewestSteps, (int)Math.Ceiling((to - from) / step)));
    }

    private double SdAt(double cells) => SdLow == 0 ? SdHigh * cells * cells / (Rows * Rows) : SdLow + ((SdHigh - SdLow) * cells / Rows);

    private double LogitAt(double cells) => LogitLow + ((LogitHigh - LogitLow) * cells / Columns);

    private ChanceRegion Narrowed(LikelihoodGrid grid)
    {
        double[] logits = new double[Columns], sds = new double[Rows];
        for (var i = 0; i < Columns; i++) logits[i] = LogitAt(i + 0.5);
        for (var t = 0; t < Rows; t++) sds[t] = SdAt(t + 0.5);
        var found = grid.At(logits, sds);
        int left = Columns, right = -1, bottom = Rows, top = -1;
        var peak = double.NegativeInfinity;
        foreach (var value in found) peak = Math.Max(peak, value);
        foreach (var prior in ChancePrior.All)
        {
            var highest = double.NegativeInfinity;
            for (var t = 0; t < Rows; t++) for (var i = 0; i < Columns; i++) highest = Math.Max(highest, found[t, i] + prior.Log(logits[i], sds[t]));
            for (var t = 0; t < Rows; t++)
            {
                for (var i = 0; i < Columns; i++)
                {
                    if (found[t, i] + prior.Log(logits[i], sds[t]) < highest - Depth) continue;
                    (left, right, bottom, top) = (Math.Min(left, i), Math.Max(right, i), Math.Min(bottom, t), Math.Max(top, t));
                }
            }
        }

        var (centre, width) = Moments(found, logits, sds, peak);
        var isFine = right - left + 3 > 0.7 * Columns;
        return new ChanceRegion(
            Math.Max(-AverageSurvival.LogitEnd, LogitAt(left - 1)),
            Math.Min(AverageSurvival.LogitEnd, LogitAt(right + 2)),
            isFine && SdLow + bottom > 0 ? Math.Max(0, SdAt(bottom - 1)) : SdLow,
            Math.Min(AverageSurvival.SdEnd, SdAt(top + 2)),
            peak,
            centre,
            width);
    }

    /// <summary>Mean and standard deviation of logit π over the cells, under the prior of record; never narrower than half a cell.</summary>
    private (double Centre, double Width) Moments(double[,] found, double[] logits, double[] sds, double peak)
    {
        double total = 0, first = 0, second = 0;
        for (var t = 0; t < Rows; t++)
        {
            for (var i = 0; i < Columns; i++)
            {
                var weight = (SdAt(t + 1) - SdAt(t)) * Math.Exp(found[t, i] - peak + ChancePrior.OfRecord.Log(logits[i], sds[t]));
                var from = logits[i] - logits[0];
                (total, first, second) = (total + weight, first + (weight * from), second + (weight * from * from));
            }
        }

        if (!(total > 0)) return ((LogitLow + LogitHigh) / 2, (LogitHigh - LogitLow) / 12);
        var mean = first / total;
        return (logits[0] + mean, Math.Max(Math.Sqrt(Math.Max(0, (second / total) - (mean * mean))), (LogitHigh - LogitLow) / (2 * Columns)));
    }
}
