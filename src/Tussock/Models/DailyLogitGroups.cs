using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Groups under a daily-logit link: every pattern is evaluated at every shift.</summary>
/// <remarks>
/// A loss over pieces, H = Σ d·h(η): the chain rule to the fourth order with Hʲψ⁽ʲ⁾ and derivatives of H divided by H.
/// With a = H/(e^H − 1): Hψ′ = a, H²ψ″ = −a(H + a), H³ψ‴ = a(H + a)(H + 2a), H⁴ψ⁗ = −a(H + a)(H² + 6aH + 6a²).
/// </remarks>
internal sealed class DailyLogitGroups(ModelTable table) : GroupLikelihood(table)
{
    private readonly int width = table.Width;

    /// <inheritdoc/>
    public override (double First, double Second) Slopes(int group, double shift)
    {
        double first = 0, second = 0;
        for (var p = Table.GroupPatterns[group]; p < Table.GroupPatterns[group + 1]; p++)
        {
            double days = Table.Watched[p], timed = Table.Timed[p];
            if (days == 0 && timed == 0) continue;
            var h = DailyHazard.At(Link.DailyLogit, Eta[p] + shift);
            var ratio = timed == 0 ? 0 : h.First / h.H;
            first += timed * ratio - days * h.First;
            second += (timed == 0 ? 0 : timed * (h.Second / h.H - ratio * ratio)) - days * h.Second;
        }

        for (var l = Table.GroupLosses[group]; l < Table.GroupLosses[group + 1]; l++)
        {
            var h = Total(l, shift);
            double a = SurvivingOdds.TimesHazard(h.H), weight = Table.LossWeight[l];
            first += weight * a * h.First;
            second += weight * a * (h.Second - (h.H + a) * h.First * h.First);
        }

        return (first, second);
    }

    /// <inheritdoc/>
    public override void At(int group, double shift, GroupDerivatives into, bool higher)
    {
        if (higher) into.Clear();
        else into.ClearSecond();
        for (var p = Table.GroupPatterns[group]; p < Table.GroupPatterns[group + 1]; p++)
            if (Table.Watched[p] > 0 || Table.Timed[p] > 0) AddPattern(p, shift, into, higher);
        double product = 1, logs = 0;
        for (var l = Table.GroupLosses[group]; l < Table.GroupLosses[group + 1]; l++)
        {
            var h = Total(l, shift);
            var a = SurvivingOdds.TimesHazard(h.H);
            Multiply(ref product, ref logs, a, h.H, Table.LossWeight[l]);
            AddLoss(l, shift, h, a, into, higher);
        }

        into.Value += logs + Math.Log(product);
    }

    /// <summary>The cumulative hazard of a loss, and its derivatives by the shift divided by it.</summary>
    private DailyHazard Total(int loss, double shift)
    {
        double h = 0, first = 0, second = 0, third = 0, fourth = 0;
        for (var q = Table.LossPieces[loss]; q < Table.LossPieces[loss + 1]; q++)
        {
            var days = Table.PieceDays[q];
            var piece = DailyHazard.At(Link.DailyLogit, Eta[Table.PiecePattern[q]] + shift);
            h += days * piece.H;
            first += days * piece.First;
            second += days * piece.Second;
            third += days * piece.Third;
            fourth += days * piece.Fourth;
        }

        return h > Least ? new DailyHazard(h, first / h, second / h, third / h, fourth / h) : new DailyHazard(Least, -1, 1, -1, 1);
    }

    private void AddPattern(int pattern, double shift, GroupDerivatives into, bool higher)
    {
        double days = Table.Watched[pattern], timed = Table.Timed[pattern];
        var h = DailyHazard.At(Link.DailyLogit, Eta[pattern] + shift);
        var x = Table.Row(pattern);
        into.Value -= days * h.H;
        into.Add(x, -days * h.First, -days * h.Second);
        if (higher) into.AddHigher(x, -days * h.Third, -days * h.Fourth);
        if (timed == 0) return;
        double a = h.First / h.H, b = h.Second / h.H, c = h.Third / h.H, d = h.Fourth / h.H;
        into.Value += timed * Math.Log(h.H);
        into.Add(x, timed * a, timed * (b - a * a));
        if (higher) into.AddHigher(x, timed * (c - 3 * a * b + 2 * a * a * a), timed * (d - 4 * a * c - 3 * b * b + 12 * a * a * b - 6 * a * a * a * a));
    }

    private void AddLoss(int loss, double shift, DailyHazard h, double a, GroupDerivatives into, bool higher)
    {
        var weight = Table.LossWeight[loss];
        double one = weight * a, two = -one * (h.H + a), three = -two * (h.H + 2 * a), four = two * (h.H * h.H + 6 * a * h.H + 6 * a * a);
        if (Table.LossPieces[loss + 1] - Table.LossPieces[loss] > 1)
        {
            AddPieces(loss, shift, h, (one, two, three, four), into, higher);
            return;
        }

        var x = Table.Row(Table.PiecePattern[Table.LossPieces[loss]]);
        into.Add(x, one * h.First, two * h.First * h.First + one * h.Second);
        if (!higher) return;
        into.AddHigher(
            x,
            three * h.First * h.First * h.First + 3 * two * h.First * h.Second + one * h.Third,
            four * h.First * h.First * h.First * h.First + 6 * three * h.First * h.First * h.Second + two * (3 * h.Second * h.Second + 4 * h.First * h.Third) + one * h.Fourth);
    }

    /// <summary>A loss in several pieces: v_j = Σ d·h⁽ʲ⁾·x/H and its matrices, through the chain rule.</summary>
    private void AddPieces(int loss, double shift, DailyHazard h, (double One, double Two, double Three, double Four) psi, GroupDerivatives into, bool higher)
    {
        var (one, two, three, four) = psi;
        Span<double> v1 = stackalloc double[width], v2 = stackalloc double[width], v3 = stackalloc double[width], v4 = stackalloc double[width];
        v1.Clear();
        v2.Clear();
        v3.Clear();
        v4.Clear();
        double m32 = two * h.First, m42 = three * h.First * h.First + two * h.Second, m43 = 2 * two * h.First;
        for (var q = Table.LossPieces[loss]; q < Table.LossPieces[loss + 1]; q++)
        {
            var piece = DailyHazard.At(Link.DailyLogit, Eta[Table.PiecePattern[q]] + shift);
            var share = Table.PieceDays[q] / h.H;
            double p2 = share * piece.Second, p3 = share * piece.Third, p4 = share * piece.Fourth;
            var x = Table.Row(Table.PiecePattern[q]);
            for (int i = 0, at = 0; i < width; i++)
            {
                v1[i] += share * piece.First * x[i];
                v2[i] += p2 * x[i];
                v3[i] += p3 * x[i];
                v4[i] += p4 * x[i];
                for (var j = 0; j <= i; j++, at++)
                {
                    var xx = x[i] * x[j];
                    into.M2[at] += one * p2 * xx;
                    if (!higher) continue;
                    into.M3[at] += (m32 * p2 + one * p3) * xx;
                    into.M4[at] += (m42 * p2 + m43 * p3 + one * p4) * xx;
                }
            }
        }

        into.S1 += one * h.First;
        into.S2 += two * h.First * h.First + one * h.Second;
        for (int i = 0, at = 0; i < width; i++)
        {
            into.V1[i] += one * v1[i];
            into.V2[i] += two * h.First * v1[i] + one * v2[i];
            for (var j = 0; j <= i; j++) into.M2[at++] += two * v1[i] * v1[j];
        }

        if (!higher) return;
        into.S3 += three * h.First * h.First * h.First + 3 * two * h.First * h.Second + one * h.Third;
        into.S4 += four * h.First * h.First * h.First * h.First + 6 * three * h.First * h.First * h.Second + two * (3 * h.Second * h.Second + 4 * h.First * h.Third) + one * h.Fourth;
        double v41 = four * h.First * h.First * h.First + 3 * three * h.First * h.Second + two * h.Third, v42 = 3 * three * h.First * h.First + 3 * two * h.Second;
        double m411 = four * h.First * h.First + three * h.Second, m412 = 2 * three * h.First;
        for (int i = 0, at = 0; i < width; i++)
        {
            into.V3[i] += m42 * v1[i] + m43 * v2[i] + one * v3[i];
            into.V4[i] += v41 * v1[i] + v42 * v2[i] + 3 * two * h.First * v3[i] + one * v4[i];
            for (var j = 0; j <= i; j++, at++)
            {
                double v11 = v1[i] * v1[j], v12 = v1[i] * v2[j] + v2[i] * v1[j];
                into.M3[at] += three * h.First * v11 + two * v12;
                into.M4[at] += m411 * v11 + m412 * v12 + two * (2 * v2[i] * v2[j] + v1[i] * v3[j] + v3[i] * v1[j]);
            }
        }
    }
}
