using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Log-likelihood of a group's lines at any (logit π, τ), with tables of the lines made when they are needed.</summary>
/// <remarks>One instance a thread.</remarks>
internal sealed class LikelihoodGrid
{
    private readonly List<(LineLikelihood Line, int Times)> lines = [];
    private readonly Dictionary<int, LineTable> tables = [];
    private readonly NormalWeights weights = new();
    private readonly int finest;

    /// <summary>The group's lines, in any order.</summary>
    public LikelihoodGrid(LineLikelihood[] all)
    {
        Lines = all.Length;
        Array.Sort(all, LineLikelihood.Order);
        foreach (var line in all)
        {
            if (lines.Count > 0 && LineLikelihood.Order(lines[^1].Line, line) == 0) lines[^1] = (line, lines[^1].Times + 1);
            else lines.Add((line, 1));
            Sharpest = Math.Min(Sharpest, 1 / Math.Sqrt(4 + (1.3 * line.Lost)));
        }

        finest = Level(Sharpest / 4);
    }

    /// <summary>Number of lines.</summary>
    public int Lines { get; }

    /// <summary>Nests lost, and the cumulative hazard if all lines shared one: losses over the summed shape watched, half of it where a loss fell within. A hazard of 0 or ∞ says that it isn't known.</summary>
    public (double Lost, double Hazard) Pooled
    {
        get
        {
            double lost = 0, watched = 0;
            foreach (var (line, times) in lines)
            {
                lost += times * line.Lost;
                watched += times * line.Survived;
                for (var j = 0; j < line.Within.Length; j++) watched += times * line.Counts[j] * line.Within[j] / 2;
            }

            return (lost, lost == 0 ? 0 : lost / watched);
        }
    }

    /// <summary>A lower bound of the width, in u, of the sharpest line's likelihood.</summary>
    public double Sharpest { get; } = 0.5;

    /// <summary>Log-likelihoods at all pairs of logits and τ.</summary>
    /// <param name="logits">Ascending.</param>
    /// <param name="sds">τ, ascending.</param>
    /// <returns>One row a τ, one column a logit; each line's part is beside its own peak.</returns>
    public double[,] At(double[] logits, double[] sds)
    {
        var betas = AverageSurvival.Betas(logits, sds);
        var result = new double[sds.Length, logits.Length];
        for (var t = 0; t < sds.Length; t++)
        {
            var (level, isNarrow) = Rule(sds[t]);
            var table = Table(level, t, sds, betas);
            for (var l = 0; l < logits.Length; l++) result[t, l] = table.LogLikelihood(betas[t, l], sds[t], isNarrow, weights);
        }

        return result;
    }

    /// <summary>Smallest s with 2^(−s) at most the given width.</summary>
    private static int Level(double width) => Math.Max(1, (int)Math.Ceiling(-Math.Log2(width)));

    /// <summary>The spacing that this τ needs, 2^(−level), and whether the lines' normal is narrower than the finest table.</summary>
    private (int Level, bool IsNarrow) Rule(double sd)
    {
        var both = sd * Sharpest / Math.Sqrt((sd * sd) + (Sharpest * Sharpest));
        return both < Math.ScaleB(1, -finest) ? (finest, true) : (Level(both), false);
    }

    /// <summary>The table of a level; made to reach as far as any of these τ asks of that level.</summary>
    private LineTable Table(int level, int t, double[] sds, double[,] betas)
    {
        var (from, to) = Reach(t, sds, betas);
        if (tables.TryGetValue(level, out var known) && known.Covers(from, to)) return known;
        for (var other = 0; other < sds.Length; other++)
        {
            if (Rule(sds[other]).Level != level) continue;
            var (low, high) = Reach(other, sds, betas);
            (from, to) = (Math.Min(from, low), Math.Max(to, high));
        }

        return tables[level] = new LineTable(lines, Math.ScaleB(1, -level), from, to);
    }

    private static (double From, double To) Reach(int t, double[] sds, double[,] betas) =>
        (betas[t, betas.GetLength(1) - 1] - (NormalWeights.Reach * sds[t]), betas[t, 0] + (NormalWeights.Reach * sds[t]));
}
