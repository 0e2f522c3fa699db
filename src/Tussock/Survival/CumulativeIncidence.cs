using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>The share of nests lost to one cause by the end of the trial.</summary>
/// <param name="Cause">The cause; a loss with no cause recorded is a cause of its own.</param>
/// <param name="Share">Share of all nests, in [0, 1]; the shares of all causes add to 1 − S(D).</param>
/// <param name="Losses">Nests found lost to it, at any time.</param>
public readonly record struct CauseShare(Cause Cause, double Share, int Losses);

/// <summary>How the loss of nests divides over its causes, all causes acting together.</summary>
public static class CumulativeIncidence
{
    private const int StepLimit = 10_000;

    /// <summary>Which share of nests is lost to each cause by the end of the trial?</summary>
    /// <param name="nests">One row a nest, with the cause of each loss.</param>
    /// <param name="trial">First check c1 and length D, in days.</param>
    /// <returns>The causes that occur, in the order of <see cref="Cause"/>; empty when nothing was lost; a reason where the two-piece fit has no S(D).</returns>
    /// <exception cref="ArgumentOutOfRangeException">The trial is outside its range.</exception>
    /// <remarks>
    /// In piece p cause k has the part q of the hazard: h_kp = q_kp·h_p, so lost to k in (a, b] has chance Σ_p q_kp·F_p, F_p the chance to be lost in piece p of it.
    /// The total hazards stay at the two-piece fit and the parts are fitted over both pieces at once, by expectation and maximisation (where every loss lies in one
    /// piece: q = d_k/d). A loss that spans the first check is so divided between the pieces. All nests lost before any intact visit: plain shares.
    /// </remarks>
    /// <source>Aalen–Johansen cumulative incidence for piecewise constant cause-specific hazards: common practice, no source</source>
    /// <check>reference-seasons</check>
    public static Answer<ImmutableArray<CauseShare>> Of(NestSpans nests, Trial trial)
    {
        var fit = TwoPiece.Fit(nests, trial);
        if (fit.S28 is null) return new NoAnswer(fit.Why!);
        var losses = Losses(nests);
        if (losses.Count == 0) return ImmutableArray<CauseShare>.Empty;
        var top = TwoPieceMaximum.Of(PieceLikelihood.From(nests, trial.FirstCheck));
        var (first, second) = Lost(top, (0, trial.Days), trial.FirstCheck);
        var parts = double.IsNaN(top.H1) ? Even(losses) : Fitted(nests, top, trial.FirstCheck, Even(losses));
        return losses.Keys.Order().Select(k => new CauseShare(k, double.IsNaN(top.H1) ? parts[k].First : parts[k].First * first + parts[k].Second * second, losses[k])).ToImmutableArray();
    }

    private static Dictionary<Cause, int> Losses(NestSpans nests)
    {
        var losses = new Dictionary<Cause, int>();
        for (var row = 0; row < nests.Count; row++) if (nests.IsLost(row)) losses[nests.Cause[row]] = losses.GetValueOrDefault(nests.Cause[row]) + 1;
        return losses;
    }

    private static Dictionary<Cause, (double First, double Second)> Even(Dictionary<Cause, int> losses)
    {
        double all = losses.Values.Sum();
        return losses.ToDictionary(k => k.Key, k => (k.Value / all, k.Value / all));
    }

    /// <summary>Parts of the hazard by cause: each loss is shared out between the pieces in which it may have fallen, until the parts stay.</summary>
    private static Dictionary<Cause, (double First, double Second)> Fitted(NestSpans nests, TwoPieceMaximum top, double cut, Dictionary<Cause, (double First, double Second)> parts)
    {
        var spans = Spans(nests, top, cut);
        for (var step = 0; step < StepLimit; step++)
        {
            var sums = parts.Keys.ToDictionary(k => k, _ => (First: 0.0, Second: 0.0));
            double all1 = 0, all2 = 0;
            foreach (var ((cause, f1, f2), count) in spans)
            {
                var (w1, w2) = (parts[cause].First * f1, parts[cause].Second * f2);
                var first = w1 + w2 > 0 ? count * w1 / (w1 + w2) : count * f1 / (f1 + f2);
                sums[cause] = (sums[cause].First + first, sums[cause].Second + count - first);
                (all1, all2) = (all1 + first, all2 + count - first);
            }

            var next = sums.ToDictionary(k => k.Key, k => (all1 > 0 ? k.Value.First / all1 : parts[k.Key].First, all2 > 0 ? k.Value.Second / all2 : parts[k.Key].Second));
            var change = next.Max(k => Math.Max(Math.Abs(k.Value.Item1 - parts[k.Key].First), Math.Abs(k.Value.Item2 - parts[k.Key].Second)));
            parts = next;
            if (change < 1e-14) break;
        }

        return parts;
    }

    /// <summary>The distinct losses: cause and chances to fall in either piece, with how many there are.</summary>
    private static Dictionary<(Cause Cause, double First, double Second), int> Spans(NestSpans nests, TwoPieceMaximum top, double cut)
    {
        var spans = new Dictionary<(Cause, double, double), int>();
        for (var row = 0; row < nests.Count; row++)
        {
            if (!nests.IsLost(row)) continue;
            var t = nests.LostAt[row];
            var (first, second) = double.IsNaN(t) ? Lost(top, (nests.LastIntact[row], nests.FirstLost[row]), cut) : t <= cut ? (1, 0) : (0d, 1d);
            var key = (nests.Cause[row], first, second);
            spans[key] = spans.GetValueOrDefault(key) + 1;
        }

        return spans;
    }

    /// <summary>Chances that a nest intact at the start of a span is lost before the cut, and after it, within the span.</summary>
    private static (double First, double Second) Lost(TwoPieceMaximum top, (double A, double B) span, double cut)
    {
        double x1 = Math.Min(span.B, cut) - Math.Min(span.A, cut), x2 = Math.Max(span.B - cut, 0) - Math.Max(span.A - cut, 0);
        var u1 = x1 == 0 ? 0 : x1 * top.H1;
        var u2 = x2 == 0 ? 0 : x2 * top.H2;
        return (-Exponentials.Expm1(-u1), -Math.Exp(-u1) * Exponentials.Expm1(-u2));
    }
}
