using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The log-likelihood of visit intervals with its exact score and observed information, under either link.</summary>
/// <remarks>
/// ℓ = Σ_p (−W_p·h(η_p) + T_p·log h(η_p)) + Σ_losses w·ψ(H), H = Σ_pieces d·h(η), ψ(H) = log(1 − e^(−H)); see <see cref="ModelTable"/>. Constants that no effect
/// touches are not left out: a loss in an interval is a chance, a timed loss a density a day.
/// With A = Hψ′, π_j = d_j·h_j/H, u = h′/h, v = h″/h, a loss adds A·π_j·u_j to the slope by η_j, and to the information
/// A(H + A)·zzᵀ − A·Σ π_j·v_j·x_jx_jᵀ with z = Σ π_j·u_j·x_j: all finite for every finite η (log hazard: cut at 690).
/// Work is split in fixed runs of groups and added up in their order: the number of threads never enters a digit. Holds scratch: one instance a thread.
/// Cost: O(patterns·k² + pieces·k) a point; one exponential a pattern, none a loss with H ≤ 0.7.
/// </remarks>
/// <source>Johnson 1979, Auk 96, 651–661 (likelihood from visit intervals); Shaffer 2004, Auk 121, 526–540 (daily logit); from memory, to be confirmed. The derivatives are worked out above.</source>
/// <check>published-values</check>
public sealed class IntervalLikelihood
{
    /// <summary>Patterns and losses in one run of work.</summary>
    private const int Run = 4096;

    private readonly ModelTable table;
    private readonly Link link;
    private readonly double[] columns;
    private readonly int[] runs;
    private readonly double[] parts;
    private readonly double[] logDays;
    private readonly double[] eta, hazard, log, ratio, bend, chance, slope, weight;

    internal IntervalLikelihood(ModelTable table, Link link, double[] columns, int width)
    {
        (this.table, this.link, this.columns, Width) = (table, link, columns, width);
        runs = Runs(table);
        parts = new double[(runs.Length - 1) * Stride];
        logDays = new double[table.PieceDays.Length];
        for (var piece = 0; piece < logDays.Length; piece++) logDays[piece] = Math.Log(table.PieceDays[piece]);
        var n = table.Patterns;
        (eta, hazard, slope, weight) = (new double[n], new double[n], new double[n], new double[n]);
        (log, ratio, bend, chance) = link == Link.LogHazard ? (eta, [], [], []) : (new double[n], new double[n], new double[n], new double[n]);
        Score = new double[width];
        Information = new double[width * width];
    }

    /// <summary>The likelihood of a table with its columns as they are.</summary>
    public static IntervalLikelihood Of(ModelTable table, Link link)
    {
        var turned = new double[table.X.Length];
        for (var p = 0; p < table.Patterns; p++) for (var j = 0; j < table.Width; j++) turned[j * table.Patterns + p] = table.X[p * table.Width + j];
        return new IntervalLikelihood(table, link, turned, table.Width);
    }

    /// <summary>Number of effects, k.</summary>
    public int Width { get; }

    /// <summary>ℓ at the point of the last <see cref="At"/>; −∞ or NaN where it is no number, and then the derivatives mean nothing.</summary>
    public double LogLikelihood { get; private set; }

    /// <summary>Score ∂ℓ/∂β at that point, length k. Overwritten by the next.</summary>
    public double[] Score { get; }

    /// <summary>Observed information −∂²ℓ/∂β∂βᵀ at that point, k × k, row by row. Overwritten by the next.</summary>
    public double[] Information { get; }

    /// <summary>∂ℓ/∂η of each pattern at that point.</summary>
    internal ReadOnlySpan<double> Slopes => slope;

    /// <summary>Linear predictor of each pattern at that point.</summary>
    internal ReadOnlySpan<double> Eta => eta;

    private int Stride => 1 + Width + Width * Width;

    /// <summary>Computes ℓ, score and information at β.</summary>
    /// <param name="beta">k effects.</param>
    public void At(ReadOnlySpan<double> beta)
    {
        var at = beta.ToArray();
        if (runs.Length == 2) Part(0, at);
        else Ordered.For(runs.Length - 1, run => Part(run, at));
        LogLikelihood = 0;
        Array.Clear(Score);
        Array.Clear(Information);
        for (var run = 0; run + 1 < runs.Length; run++)
        {
            var part = parts.AsSpan(run * Stride, Stride);
            LogLikelihood += part[0];
            for (var j = 0; j < Width; j++) Score[j] += part[1 + j];
            for (var j = 0; j < Information.Length; j++) Information[j] += part[1 + Width + j];
        }
    }

    /// <summary>Score of each group at the point of the last <see cref="At"/>: groups × k, row by row. The rows add up to the score.</summary>
    public double[] GroupScores()
    {
        var scores = new double[table.Groups * Width];
        for (var g = 0; g < table.Groups; g++)
        {
            int from = table.GroupPatterns[g], count = table.GroupPatterns[g + 1] - from;
            for (var j = 0; j < Width; j++) scores[g * Width + j] = WeightedSums.Of(slope.AsSpan(from, count), Column(j).Slice(from, count));
        }

        return scores;
    }

    private ReadOnlySpan<double> Column(int j) => columns.AsSpan(j * table.Patterns, table.Patterns);

    private void Part(int run, double[] beta)
    {
        int first = runs[run], last = runs[run + 1];
        int from = table.GroupPatterns[first], count = table.GroupPatterns[last] - from;
        var part = parts.AsSpan(run * Stride, Stride);
        part.Clear();
        var information = part[(1 + Width)..];
        part[0] = Patterns(from, count, beta);
        for (var loss = table.GroupLosses[first]; loss < table.GroupLosses[last]; loss++)
        {
            int piece = table.LossPieces[loss], pieces = table.LossPieces[loss + 1] - piece;
            part[0] += pieces == 1 ? OnePiece(piece, table.LossWeight[loss]) : Pieces(piece, pieces, table.LossWeight[loss], information);
        }

        for (var i = 0; i < Width; i++)
        {
            var column = Column(i).Slice(from, count);
            part[1 + i] = WeightedSums.Of(slope.AsSpan(from, count), column);
            for (var j = 0; j <= i; j++)
            {
                var sum = information[i * Width + j] += WeightedSums.Of(weight.AsSpan(from, count), column, Column(j).Slice(from, count));
                information[j * Width + i] = sum;
            }
        }
    }

    /// <summary>Linear predictors, hazards, and what watched days and timed losses add.</summary>
    private double Patterns(int from, int count, double[] beta)
    {
        var x = eta.AsSpan(from, count);
        table.Offset.AsSpan(from, count).CopyTo(x);
        for (var j = 0; j < Width; j++) WeightedSums.Add(x, beta[j], Column(j).Slice(from, count));
        Span<double> g = slope.AsSpan(from, count), w = weight.AsSpan(from, count), h = hazard.AsSpan(from, count);
        ReadOnlySpan<double> watched = table.Watched.AsSpan(from, count), timed = table.Timed.AsSpan(from, count);
        if (link == Link.LogHazard)
        {
            HazardColumns.LogHazard(x, h);
            for (var p = 0; p < count; p++)
            {
                w[p] = watched[p] * h[p];
                g[p] = timed[p] - w[p];
            }

            return WeightedSums.Of(timed, x) - WeightedSums.Of(watched, h);
        }

        Span<double> l = log.AsSpan(from, count), u = ratio.AsSpan(from, count), b = bend.AsSpan(from, count), rare = chance.AsSpan(from, count);
        HazardColumns.DailyLogit(x, h, l, u, b, rare);
        for (var p = 0; p < count; p++)
        {
            g[p] = watched[p] * (x[p] > 0 ? rare[p] : 1 - rare[p]) + timed[p] * u[p];
            w[p] = watched[p] * rare[p] * (1 - rare[p]) - timed[p] * b[p];
        }

        return WeightedSums.Of(timed, l) - WeightedSums.Of(watched, h);
    }

    private double OnePiece(int piece, double times)
    {
        var p = table.PiecePattern[piece];
        var days = table.PieceDays[piece];
        var terms = LossTerms.At(days * hazard[p], logDays[piece] + log[p]);
        var a = times * terms.Slope;
        if (link == Link.LogHazard)
        {
            slope[p] += a;
            weight[p] -= a * terms.Bend;
        }
        else
        {
            var u = ratio[p];
            slope[p] += a * u;
            weight[p] -= a * (bend[p] + u * u * terms.Bend);
        }

        return times * terms.Log;
    }

    private double Pieces(int first, int count, double times, Span<double> information)
    {
        var highest = double.NegativeInfinity;
        for (var piece = first; piece < first + count; piece++) highest = Math.Max(highest, LogHazardOf(piece));
        var sum = 0.0;
        for (var piece = first; piece < first + count; piece++) sum += Math.Exp(LogHazardOf(piece) - highest);
        var logTotal = highest + Math.Log(sum);
        var total = Math.Exp(Math.Min(logTotal, HazardColumns.HighestLogHazard));
        var terms = LossTerms.At(total, logTotal);
        var a = times * terms.Slope;
        Span<double> z = Width <= 64 ? stackalloc double[Width] : new double[Width];
        z.Clear();
        for (var piece = first; piece < first + count; piece++)
        {
            var p = table.PiecePattern[piece];
            var share = Math.Exp(LogHazardOf(piece) - logTotal);
            var (u, v) = link == Link.LogHazard ? (1.0, 1.0) : (ratio[p], bend[p] + ratio[p] * ratio[p]);
            slope[p] += a * share * u;
            weight[p] -= a * share * v;
            for (var j = 0; j < Width; j++) z[j] += share * u * columns[j * table.Patterns + p];
        }

        var rank1 = a * (total + terms.Slope);
        for (var i = 0; i < Width; i++) for (var j = 0; j <= i; j++) information[i * Width + j] += rank1 * z[i] * z[j];
        return times * terms.Log;
    }

    private double LogHazardOf(int piece) => logDays[piece] + log[table.PiecePattern[piece]];

    private static int[] Runs(ModelTable table)
    {
        var ends = ImmutableArray.CreateBuilder<int>();
        ends.Add(0);
        var load = 0;
        for (var g = 0; g < table.Groups; g++)
        {
            load += table.GroupPatterns[g + 1] - table.GroupPatterns[g] + table.GroupLosses[g + 1] - table.GroupLosses[g];
            if (load < Run && g + 1 < table.Groups) continue;
            ends.Add(g + 1);
            load = 0;
        }

        if (ends.Count == 1) ends.Add(0);
        return [.. ends];
    }
}
