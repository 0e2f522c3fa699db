using System.Runtime.InteropServices;
using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Log-likelihood of a hazard h1 up to a cut and h2 after it, from spans; equal spans are added up once.</summary>
/// <remarks>
/// With d(u) = (days of (0, u] before the cut, days after it): intact to a: −d(a)·h. Lost in (a, b]: −d(a)·h + log(1 − exp(−x·h)), x = d(b) − d(a).
/// Lost at camera time t: −d(t)·h + log of the hazard at t (density per day). It is concave in h: a sum of linear terms, logarithms and
/// log(1 − e^−u), whose derivatives are r = 1/(e^u − 1) and −r(1 + r). A cut at +∞ makes it the constant rate. A hazard may be +∞ where
/// no day was survived. Not shared between threads while it is made; afterwards yes.
/// </remarks>
internal sealed class PieceLikelihood
{
    /// <summary>Newton's error is squared in a step: after a step this small, what is left is below rounding, and a further step would only follow noise.</summary>
    public const double Settled = 1e-10;

    private const int StepLimit = 1200;
    private readonly double cut;
    private readonly List<(double First, double Second)> spans = [];
    private readonly List<double> counts = [];
    private readonly int[] spanOf;
    private double survived1, survived2, timed1, timed2;

    private PieceLikelihood(double cut, int rows) => (this.cut, spanOf) = (cut, new int[rows]);

    /// <summary>Nests that inform: with a visit after day 0 that tells, or timed by a camera.</summary>
    public int Watched { get; private set; }

    /// <summary>Nests lost.</summary>
    public int Lost { get; private set; }

    /// <summary>Lines with at least one nest that informs.</summary>
    public int Lines { get; private set; }

    /// <summary>Days survived before and after the cut, over all nests.</summary>
    public (double First, double Second) Survived => (survived1, survived2);

    /// <summary>Whether some loss may have fallen, at least in part, after the cut.</summary>
    public bool SomeLossTouchesSecond => timed2 > 0 || spans.Exists(x => x.Second > 0);

    /// <summary>Adds up the spans of nests.</summary>
    public static PieceLikelihood From(NestSpans nests, double cut)
    {
        var sum = new PieceLikelihood(cut, nests.Count);
        var known = new Dictionary<(double, double), int>();
        var line = -1;
        for (var row = 0; row < nests.Count; row++)
        {
            sum.spanOf[row] = -1;
            if (!nests.IsWatched(row)) continue;
            sum.Watched++;
            if (nests.Line[row] != line) sum.Lines++;
            line = nests.Line[row];
            sum.Add(nests, row, known);
        }

        return sum;
    }

    /// <summary>Log-likelihood at (h1, h2); −∞ where a loss is impossible.</summary>
    public double LogLikelihood(double h1, double h2)
    {
        var sum = -Times(survived1, h1) - Times(survived2, h2);
        if (timed1 > 0) sum += timed1 * Math.Log(h1);
        if (timed2 > 0) sum += timed2 * Math.Log(h2);
        for (var j = 0; j < spans.Count; j++) sum -= counts[j] * Exponentials.Log1p(Odds(spans[j], h1, h2));
        return sum;
    }

    /// <summary>Score and observed information at a point of finite, positive hazards (a hazard of 0 is allowed where no loss needs it).</summary>
    public Slopes At(double h1, double h2)
    {
        double g1 = -survived1, g2 = -survived2, i11 = 0, i12 = 0, i22 = 0;
        if (timed1 > 0) (g1, i11) = (g1 + timed1 / h1, timed1 / (h1 * h1));
        if (timed2 > 0) (g2, i22) = (g2 + timed2 / h2, timed2 / (h2 * h2));
        for (var j = 0; j < spans.Count; j++)
        {
            var (x1, x2) = spans[j];
            var r = Odds(spans[j], h1, h2);
            double k = counts[j], w = k * r * (1 + r);
            g1 += k * r * x1;
            g2 += k * r * x2;
            i11 += w * x1 * x1;
            i12 += w * x1 * x2;
            i22 += w * x2 * x2;
        }

        return new Slopes(g1, g2, i11, i12, i22);
    }

    /// <summary>The q ≥ 0 that makes the likelihood greatest at base + q·direction; +∞ when it rises for ever, 0 when it falls from the start or nothing depends on q.</summary>
    /// <remarks>Newton on the score, which is convex and falls in q: from the left it climbs without overshooting, from the right its first step lands on the left.</remarks>
    public (double Q, NewtonDiary Diary) Along((double H1, double H2) start, (double V1, double V2) direction)
    {
        var (v1, v2) = direction;
        if (!(Along(start, direction, 0).Score > 0)) return (0, NewtonDiary.None);
        var days = v1 * survived1 + v2 * survived2;
        if (days == 0) return (double.PositiveInfinity, NewtonDiary.None);
        double losses = (v1 > 0 ? timed1 : 0) + (v2 > 0 ? timed2 : 0), spread = 0;
        for (var j = 0; j < spans.Count; j++)
        {
            var x = v1 * spans[j].First + v2 * spans[j].Second;
            if (x > 0) (losses, spread) = (losses + counts[j], spread + counts[j] * x);
        }

        var q = losses / (days + spread / 2);
        for (var step = 1; step <= StepLimit; step++)
        {
            var (score, information) = Along(start, direction, q);
            var next = q + score / information;
            if (!(next > 0)) next = q / 2;
            var change = Math.Abs(next - q) / next;
            q = next;
            if (change < Settled) return (q, new NewtonDiary(step, change, NewtonStop.Converged));
        }

        return (q, new NewtonDiary(StepLimit, 0, NewtonStop.StepLimit));
    }

    /// <summary>Whether a loss could happen at all with no hazard in one piece.</summary>
    public bool AllowsZero(bool first)
    {
        if ((first ? timed1 : timed2) > 0) return false;
        foreach (var (x1, x2) in spans) if ((first ? x2 : x1) == 0) return false;
        return true;
    }

    /// <summary>The common ratio of days before and after the cut, when every span and the days survived share it: then only one sum of the hazards is known.</summary>
    public (double First, double Second)? CommonRatio()
    {
        if (timed1 > 0 || timed2 > 0 || spans.Count == 0) return null;
        var (r1, r2) = spans[0];
        if (r1 == 0 || r2 == 0 || !Parallel(survived1, survived2)) return null;
        foreach (var (x1, x2) in spans) if (!Parallel(x1, x2)) return null;
        return (r1, r2);

        bool Parallel(double x1, double x2) => Math.Abs(x1 * r2 - x2 * r1) <= 1e-12 * (x1 * r2 + x2 * r1);
    }

    /// <summary>Sum over lines of the outer products of each line's score, with the nests that were added up.</summary>
    public (double S11, double S12, double S22) LineScores(NestSpans nests, double h1, double h2)
    {
        double s11 = 0, s12 = 0, s22 = 0, u1 = 0, u2 = 0;
        for (var row = 0; row < nests.Count; row++)
        {
            if (row > 0 && nests.Line[row] != nests.Line[row - 1])
            {
                (s11, s12, s22) = (s11 + u1 * u1, s12 + u1 * u2, s22 + u2 * u2);
                (u1, u2) = (0, 0);
            }

            var (g1, g2) = Score(nests, row, h1, h2);
            (u1, u2) = (u1 + g1, u2 + g2);
        }

        return (s11 + u1 * u1, s12 + u1 * u2, s22 + u2 * u2);
    }

    private (double G1, double G2) Score(NestSpans nests, int row, double h1, double h2)
    {
        var t = nests.LostAt[row];
        if (!double.IsNaN(t))
        {
            var (d1, d2) = Days(t);
            return t <= cut ? (1 / h1 - d1, -d2) : (-d1, 1 / h2 - d2);
        }

        var (a1, a2) = Days(nests.LastIntact[row]);
        if (spanOf[row] < 0) return (-a1, -a2);
        var x = spans[spanOf[row]];
        var r = Odds(x, h1, h2);
        return (r * x.First - a1, r * x.Second - a2);
    }

    private (double Score, double Information) Along((double H1, double H2) start, (double V1, double V2) direction, double q)
    {
        var (v1, v2) = direction;
        double h1 = start.H1 + q * v1, h2 = start.H2 + q * v2;
        double score = -v1 * survived1 - v2 * survived2, information = 0;
        if (v1 > 0 && timed1 > 0) (score, information) = (score + v1 * timed1 / h1, v1 * v1 * timed1 / (h1 * h1));
        if (v2 > 0 && timed2 > 0) (score, information) = (score + v2 * timed2 / h2, information + v2 * v2 * timed2 / (h2 * h2));
        for (var j = 0; j < spans.Count; j++)
        {
            var x = v1 * spans[j].First + v2 * spans[j].Second;
            if (x == 0) continue;
            var r = Odds(spans[j], h1, h2);
            score += counts[j] * r * x;
            information += counts[j] * r * (1 + r) * x * x;
        }

        return (score, information);
    }

    private void Add(NestSpans nests, int row, Dictionary<(double, double), int> known)
    {
        var t = nests.LostAt[row];
        var timed = !double.IsNaN(t);
        var (a1, a2) = Days(timed ? t : nests.LastIntact[row]);
        survived1 += a1;
        survived2 += a2;
        if (timed && t <= cut) timed1++;
        if (timed && t > cut) timed2++;
        if (!nests.IsLost(row)) return;
        Lost++;
        if (timed) return;
        var (b1, b2) = Days(nests.FirstLost[row]);
        var span = (b1 - a1, b2 - a2);
        ref var index = ref CollectionsMarshal.GetValueRefOrAddDefault(known, span, out var seen);
        if (!seen)
        {
            index = spans.Count;
            spans.Add(span);
            counts.Add(0);
        }

        spanOf[row] = index;
        counts[index]++;
    }

    private (double First, double Second) Days(double day) => (Math.Min(day, cut), Math.Max(day - cut, 0));

    /// <summary>Odds of surviving a span against being lost in it, 1/(e^u − 1).</summary>
    private static double Odds((double First, double Second) span, double h1, double h2) => 1 / Exponentials.Expm1(Times(span.First, h1) + Times(span.Second, h2));

    private static double Times(double days, double hazard) => days == 0 ? 0 : days * hazard;
}

/// <summary>Score and observed information of the two hazards.</summary>
internal readonly record struct Slopes(double G1, double G2, double I11, double I12, double I22);
