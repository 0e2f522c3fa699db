using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Groups under a log-hazard link: a shift s multiplies every hazard by e^s, so watched days are added up once and a loss in several pieces is one term.</summary>
/// <remarks>
/// Watched days: −e^s·Σ W·e^η with all derivatives by s alike. A loss with cumulative hazard H = e^s·D, D = Σ d·e^η: with a = H/(e^H − 1),
/// first derivative a, second b = a(1 − H − a), third b(1 − H − 2a) − aH, fourth that times (1 − H − 2a) minus 2b(H + b) + aH,
/// the gradient of log H by β being the mean of the pieces' effects weighted by d·e^η, its second derivative their weighted covariance.
/// </remarks>
internal sealed class LogHazardGroups(ModelTable table) : GroupLikelihood(table)
{
    private readonly int width = table.Width, half = table.Width * (table.Width + 1) / 2;
    private readonly double[] hazard = new double[table.Patterns], lost = new double[table.Losses];
    private readonly double[] watched = new double[table.Groups], timedEta = new double[table.Groups], timed = new double[table.Groups];
    private readonly double[] watchedX = new double[table.Groups * table.Width], timedX = new double[table.Groups * table.Width];
    private readonly double[] watchedXX = new double[table.Groups * (table.Width * (table.Width + 1) / 2)];
    private readonly double[]? meanX = table.PiecePattern.Length == table.Losses ? null : new double[table.Losses * table.Width];
    private readonly double[]? covarianceX = table.PiecePattern.Length == table.Losses ? null : new double[table.Losses * (table.Width * (table.Width + 1) / 2)];

    /// <inheritdoc/>
    public override void Place(int group, ReadOnlySpan<double> beta)
    {
        base.Place(group, beta);
        watched[group] = timed[group] = timedEta[group] = 0;
        Span<double> x1 = watchedX.AsSpan(group * width, width), t1 = timedX.AsSpan(group * width, width), x2 = watchedXX.AsSpan(group * half, half);
        x1.Clear();
        t1.Clear();
        x2.Clear();
        for (var p = Table.GroupPatterns[group]; p < Table.GroupPatterns[group + 1]; p++)
        {
            hazard[p] = Math.Exp(Eta[p]);
            if (Table.Watched[p] > 0) AddWatched(group, Table.Watched[p] * hazard[p], Table.Row(p), x1, x2);
            if (Table.Timed[p] > 0) AddTimed(group, p, t1);
        }

        for (var l = Table.GroupLosses[group]; l < Table.GroupLosses[group + 1]; l++) PlaceLoss(l);
    }

    /// <inheritdoc/>
    public override (double First, double Second) Slopes(int group, double shift)
    {
        var factor = Math.Exp(shift);
        double first = timed[group] - factor * watched[group], second = -factor * watched[group];
        for (var l = Table.GroupLosses[group]; l < Table.GroupLosses[group + 1]; l++)
        {
            double h = Math.Max(lost[l] * factor, Least), a = SurvivingOdds.TimesHazard(h), weight = Table.LossWeight[l];
            first += weight * a;
            second += weight * a * (1 - h - a);
        }

        return (first, second);
    }

    /// <inheritdoc/>
    public override void At(int group, double shift, GroupDerivatives into, bool higher)
    {
        if (higher) into.Clear();
        else into.ClearSecond();
        var factor = Math.Exp(shift);
        AddDays(group, shift, factor, into, higher);
        double product = 1, logs = 0;
        for (var l = Table.GroupLosses[group]; l < Table.GroupLosses[group + 1]; l++)
        {
            double h = Math.Max(lost[l] * factor, Least), a = SurvivingOdds.TimesHazard(h), weight = Table.LossWeight[l];
            Multiply(ref product, ref logs, a, h, weight);
            AddLoss(l, h, a, weight, into, higher);
        }

        into.Value += logs + Math.Log(product);
    }

    private void AddWatched(int group, double days, ReadOnlySpan<double> x, Span<double> first, Span<double> second)
    {
        watched[group] += days;
        var at = 0;
        for (var i = 0; i < x.Length; i++)
        {
            var row = days * x[i];
            first[i] += row;
            for (var j = 0; j <= i; j++) second[at++] += row * x[j];
        }
    }

    private void AddTimed(int group, int pattern, Span<double> first)
    {
        var count = Table.Timed[pattern];
        timed[group] += count;
        timedEta[group] += count * Eta[pattern];
        var x = Table.Row(pattern);
        for (var i = 0; i < width; i++) first[i] += count * x[i];
    }

    private void PlaceLoss(int loss)
    {
        int from = Table.LossPieces[loss], to = Table.LossPieces[loss + 1];
        var sum = 0.0;
        for (var q = from; q < to; q++) sum += Table.PieceDays[q] * hazard[Table.PiecePattern[q]];
        lost[loss] = sum;
        if (meanX is null || covarianceX is null) return;
        Span<double> mean = meanX.AsSpan(loss * width, width), covariance = covarianceX.AsSpan(loss * half, half);
        mean.Clear();
        covariance.Clear();
        for (var q = from; q < to; q++)
        {
            var share = Share(q, sum, to - from);
            var x = Table.Row(Table.PiecePattern[q]);
            for (var i = 0; i < width; i++) mean[i] += share * x[i];
        }

        for (var q = from; q < to && to - from > 1; q++)
        {
            var share = Share(q, sum, to - from);
            var x = Table.Row(Table.PiecePattern[q]);
            for (int i = 0, at = 0; i < width; i++)
                for (var j = 0; j <= i; j++) covariance[at++] += share * (x[i] - mean[i]) * (x[j] - mean[j]);
        }
    }

    private double Share(int piece, double sum, int pieces) => sum > 0 ? Table.PieceDays[piece] * hazard[Table.PiecePattern[piece]] / sum : 1.0 / pieces;

    private void AddDays(int group, double shift, double factor, GroupDerivatives into, bool higher)
    {
        double days = factor * watched[group];
        into.Value += timedEta[group] + shift * timed[group] - days;
        into.S1 += timed[group] - days;
        into.S2 -= days;
        for (var i = 0; i < width; i++)
        {
            var x = factor * watchedX[group * width + i];
            into.V1[i] += timedX[group * width + i] - x;
            into.V2[i] -= x;
            if (!higher) continue;
            into.V3[i] -= x;
            into.V4[i] -= x;
        }

        for (var i = 0; i < half; i++) into.M2[i] -= factor * watchedXX[group * half + i];
        if (!higher) return;
        into.S3 -= days;
        into.S4 -= days;
        for (var i = 0; i < half; i++)
        {
            into.M3[i] -= factor * watchedXX[group * half + i];
            into.M4[i] -= factor * watchedXX[group * half + i];
        }
    }

    private void AddLoss(int loss, double h, double a, double weight, GroupDerivatives into, bool higher)
    {
        var x = meanX is null ? Table.Row(Table.PiecePattern[Table.LossPieces[loss]]) : meanX.AsSpan(loss * width, width);
        var b = a * (1 - h - a);
        into.Add(x, weight * a, weight * b);
        var spread = covarianceX is not null && Table.LossPieces[loss + 1] - Table.LossPieces[loss] > 1 ? covarianceX.AsSpan(loss * half, half) : [];
        for (var i = 0; i < spread.Length; i++) into.M2[i] += weight * a * spread[i];
        if (!higher) return;
        var third = b * (1 - h - 2 * a) - a * h;
        into.AddHigher(x, weight * third, weight * (third * (1 - h - 2 * a) - 2 * b * (h + b) - a * h));
        for (var i = 0; i < spread.Length; i++)
        {
            into.M3[i] += weight * b * spread[i];
            into.M4[i] += weight * third * spread[i];
        }
    }
}
