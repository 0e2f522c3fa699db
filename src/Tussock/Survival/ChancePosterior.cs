using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Belief about survival averaged over lines (π) and the spread of lines (τ), before a season is seen.</summary>
/// <param name="Name">Token for JSON.</param>
/// <param name="LogitSd">Standard deviation of logit π, whose mean is 0.</param>
/// <param name="SpreadSd">Scale of the half-normal of τ.</param>
public sealed record ChancePrior(string Name, double LogitSd, double SpreadSd)
{
    /// <summary>The prior of record: logit π ~ N(0, 1.5²) and τ ~ half-normal(1).</summary>
    public static ChancePrior OfRecord { get; } = new("logit_sd_1.5_tau_half_normal_1", 1.5, 1);

    /// <summary>The other priors that are shown beside it.</summary>
    public static ImmutableArray<ChancePrior> Others { get; } =
        [new("tau_half_normal_0.5", 1.5, 0.5), new("tau_half_normal_2", 1.5, 2), new("logit_sd_3", 3, 1)];

    internal static ImmutableArray<ChancePrior> All { get; } = [OfRecord, .. Others];

    /// <summary>Log density of logit π and τ, without the constant.</summary>
    internal double Log(double logit, double sd) => -(Square(logit / LogitSd) + Square(sd / SpreadSd)) / 2;

    private static double Square(double x) => x * x;
}

/// <summary>The posterior of logit π and τ as weighted points: panels of Gauss–Legendre nodes in logit π, an edge at the benchmark, and even steps in asinh τ.</summary>
internal sealed class ChancePosterior
{
    /// <summary>Nodes a panel.</summary>
    public const int Size = 10;

    private const int Halvings = 8;

    /// <summary>Last Legendre coefficients of a panel's density, as a share of the total: above it the panel is halved.</summary>
    private const double Roughness = 1e-2;

    private static readonly GaussLegendre Rule = GaussLegendre.Of(Size);

    private readonly LikelihoodGrid grid;
    private readonly SpreadNodes spread;
    private readonly double scale;

    private ChancePosterior(LikelihoodGrid grid, ChanceRegion region, double benchmarkLogit)
    {
        this.grid = grid;
        spread = region.Spreads(grid.Sharpest, grid.Lines);
        scale = region.Peak;
        Panels = [.. Panelled(region.LogitEdges(benchmarkLogit))];
        for (var round = 0; round < Halvings && Halve(); round++)
        {
        }
    }

    /// <summary>Nodes in τ.</summary>
    public SpreadNodes Spread => spread;

    /// <summary>Panels in ascending order of logit π.</summary>
    public List<ChancePanel> Panels { get; private set; }

    /// <summary>The posterior of a group.</summary>
    /// <param name="lines">What each line's nests say.</param>
    /// <param name="benchmarkLogit">Logit of the benchmark, an edge of the panels.</param>
    public static ChancePosterior Of(LineLikelihood[] lines, double benchmarkLogit)
    {
        var likelihood = new LikelihoodGrid(lines);
        return new ChancePosterior(likelihood, ChanceRegion.Of(likelihood), benchmarkLogit);
    }

    /// <summary>Total weight under one prior.</summary>
    public double Total(int prior)
    {
        var sum = 0.0;
        foreach (var panel in Panels) sum += panel.Mass(prior);
        return sum;
    }

    /// <summary>Points (β, τ) and their weights under the prior of record, without those lighter than a share of the heaviest.</summary>
    public IEnumerable<(double Beta, double Sd, double Weight)> Points(double leastShare)
    {
        var heaviest = 0.0;
        foreach (var panel in Panels) foreach (var weight in panel.Weights) heaviest = Math.Max(heaviest, weight);
        foreach (var panel in Panels)
        {
            var betas = AverageSurvival.Betas(panel.Logits, spread.Sds);
            for (var i = 0; i < panel.Logits.Length; i++)
            {
                for (var t = 0; t < spread.Sds.Length; t++) if (panel.Weights[i, t] > leastShare * heaviest) yield return (betas[t, i], spread.Sds[t], panel.Weights[i, t]);
            }
        }
    }

    private static (double[] Nodes, double[] Weights) Nodes(double[] edges)
    {
        double[] nodes = new double[Size * (edges.Length - 1)], weights = new double[nodes.Length];
        for (var p = 0; p + 1 < edges.Length; p++)
        {
            var half = (edges[p + 1] - edges[p]) / 2;
            for (var i = 0; i < Size; i++)
            {
                nodes[(p * Size) + i] = edges[p] + (half * (1 + Rule.Nodes[i]));
                weights[(p * Size) + i] = half * Rule.Weights[i];
            }
        }

        return (nodes, weights);
    }

    /// <summary>The panels between neighbouring edges, all nodes evaluated together.</summary>
    private IEnumerable<ChancePanel> Panelled(double[] edges)
    {
        var (logits, weights) = Nodes(edges);
        var logLikelihood = grid.At(logits, spread.Sds);
        for (var p = 0; p + 1 < edges.Length; p++) yield return new ChancePanel(edges[p], edges[p + 1], Densities(logits, weights, logLikelihood, p * Size), logits[(p * Size)..((p + 1) * Size)]);
    }

    /// <summary>Weight of each (node of logit π, τ) under each prior: likelihood × prior × both quadrature weights.</summary>
    private double[][,] Densities(double[] logits, double[] weights, double[,] logLikelihood, int from)
    {
        var all = new double[ChancePrior.All.Length][,];
        var likelihood = new double[Size, spread.Sds.Length];
        for (var t = 0; t < spread.Sds.Length; t++) for (var i = 0; i < Size; i++) likelihood[i, t] = Math.Exp(logLikelihood[t, from + i] - scale);
        for (var p = 0; p < all.Length; p++) all[p] = new double[Size, spread.Sds.Length];
        for (var p = 0; p < all.Length; p++)
        {
            var prior = ChancePrior.All[p];
            for (var t = 0; t < spread.Sds.Length; t++)
            {
                var ofSd = spread.Weights[t] * Math.Exp(prior.Log(0, spread.Sds[t]));
                for (var i = 0; i < Size; i++) all[p][i, t] = ofSd;
            }

            for (var i = 0; i < Size; i++)
            {
                var ofLogit = weights[from + i] * Math.Exp(prior.Log(logits[from + i], 0));
                for (var t = 0; t < spread.Sds.Length; t++) all[p][i, t] *= ofLogit * likelihood[i, t];
            }
        }

        return all;
    }

    /// <summary>Halves every panel whose density is not yet a smooth polynomial; false when there was none.</summary>
    private bool Halve()
    {
        var totals = new double[ChancePrior.All.Length];
        for (var p = 0; p < totals.Length; p++) totals[p] = Total(p);
        var next = new List<ChancePanel>(Panels.Count + 4);
        foreach (var panel in Panels)
        {
            if (panel.Roughness(totals) <= Roughness) next.Add(panel);
            else next.AddRange(Panelled([panel.Low, (panel.Low + panel.High) / 2, panel.High]));
        }

        var halved = next.Count > Panels.Count;
        Panels = next;
        return halved;
    }
}
