using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>What another set of nests on new lines of the same place and season might have shown.</summary>
/// <param name="Chances">Chance of each count of nests intact at the end of the trial, 0 to all; they add to 1.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record PredictiveShare(ImmutableArray<double> Chances)
{
    /// <summary>Posterior points that weigh less than this share of the heaviest one are left out.</summary>
    private const double Least = 1e-6;

    /// <summary>Nests in the new set.</summary>
    public int Nests => Chances.Length - 1;

    /// <summary>Smallest count whose chance, with all smaller counts, is at least <paramref name="share"/>.</summary>
    /// <param name="share">In (0, 1): 0.1, 0.5 and 0.9 are shown.</param>
    public int Point(double share)
    {
        var sum = 0.0;
        for (var count = 0; count < Chances.Length; count++)
        {
            sum += Chances[count];
            if (sum >= share - 1e-12) return count;
        }

        return Nests;
    }

    /// <summary>How many of another <paramref name="nests"/> nests might have been intact at the end of the trial?</summary>
    /// <param name="chance">The posterior of the group.</param>
    /// <param name="nests">Nests in the new set, 1 to 1000, shared out as evenly as can be.</param>
    /// <param name="lines">New lines, 1 to <paramref name="nests"/>.</param>
    /// <returns>The exact predictive distribution under the model, all nests of known fate.</returns>
    /// <exception cref="ArgumentOutOfRangeException">There is no nest, or no nest on some line.</exception>
    /// <remarks>
    /// At each point of the posterior: binomial counts of a line averaged over its line effect, lines convolved; then averaged over the
    /// posterior. No draws. Edges: a single line gives a wide, often two-humped distribution. Cost: about 2,000 points times (nests a line × 80 + nests²).
    /// </remarks>
    /// <source>Common practice, no source: posterior predictive distribution of the model of <see cref="BenchmarkChance"/>.</source>
    /// <check>reference-seasons</check>
    public static PredictiveShare Of(BenchmarkChance chance, int nests, int lines)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(nests, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(nests, 1000);
        ArgumentOutOfRangeException.ThrowIfLessThan(lines, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(lines, nests);
        int each = nests / lines, longer = nests % lines;
        var shorter = new LineCounts(each);
        var more = longer > 0 ? new LineCounts(each + 1) : shorter;
        var sum = new double[nests + 1];
        foreach (var (beta, sd, weight) in chance.Posterior.Points(Least))
        {
            double[] all = [1];
            all = Repeated(all, shorter.At(beta, sd), lines - longer);
            if (longer > 0) all = Repeated(all, more.At(beta, sd), longer);
            for (var count = 0; count < all.Length; count++) sum[count] += weight * all[count];
        }

        var total = 0.0;
        foreach (var x in sum) total += x;
        for (var count = 0; count < sum.Length; count++) sum[count] /= total;
        return new PredictiveShare([.. sum]);
    }

    private static double[] Repeated(double[] start, double[] line, int times)
    {
        for (var i = 0; i < times; i++)
        {
            var next = new double[start.Length + line.Length - 1];
            for (var a = 0; a < start.Length; a++) for (var b = 0; b < line.Length; b++) next[a + b] += start[a] * line[b];
            start = next;
        }

        return start;
    }

    /// <summary>Binomial chances of the counts of one line, tabulated over the line's log cumulative hazard.</summary>
    private sealed class LineCounts
    {
        private readonly double[][] table;
        private readonly double spacing;
        private readonly int first;
        private readonly int last;
        private readonly NormalWeights weights = new();

        /// <summary>Spacing at most a quarter of the width of the sharpest of these binomial chances.</summary>
        public LineCounts(int nests)
        {
            spacing = Math.ScaleB(1, -(int)Math.Ceiling(Math.Log2(4 * Math.Sqrt(4 + (1.3 * nests)))));
            (first, last) = ((int)(-40 / spacing), (int)(6 / spacing));
            table = new double[nests + 1][];
            var ways = 0.0;
            for (var count = 0; count <= nests; count++)
            {
                table[count] = new double[last - first + 1];
                for (var k = first; k <= last; k++)
                {
                    var x = Math.Exp(k * spacing);
                    table[count][k - first] = Math.Exp(ways - (count * x) + (count == nests ? 0 : (nests - count) * LogOneMinusExp.At(x)));
                }

                ways += Math.Log((double)(nests - count) / (count + 1));
            }
        }

        /// <summary>Chances of 0 … n intact, for line effects of mean β and sd τ.</summary>
        public double[] At(double beta, double sd)
        {
            if (sd < 1.1 * spacing) weights.Interpolated(beta, sd, spacing, first, last);
            else weights.Trapezoid(beta, sd, spacing, first, last, true);
            var from = Math.Max(weights.First, first);
            var count = Math.Max(0, Math.Min(weights.First + weights.Count - 1, last) - from + 1);
            var chances = new double[table.Length];
            for (var y = 0; y < chances.Length; y++)
            {
                var row = table[y].AsSpan(count == 0 ? 0 : from - first, count);
                var w = weights.Values.Slice(count == 0 ? 0 : from - weights.First, count);
                for (var i = 0; i < count; i++) chances[y] += row[i] * w[i];
            }

            chances[^1] += weights.Below;
            chances[0] += weights.Above;
            return chances;
        }
    }
}
