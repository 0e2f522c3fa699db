using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Covariances of a maximum: cluster-robust and independent.</summary>
internal sealed record EffectsSpread(FittedEffects Clustered, FittedEffects Independent, int Clusters)
{
    public const string ClusteredMethod = "cluster-robust, observed information, t(m - 1)";
    public const string IndependentMethod = "inverse observed information, nests independent, normal";

    /// <summary>A spread of clusters below this share of the independent one is rounding: clusters do not differ.</summary>
    private const double Nothing = 1e-16;

    public static EffectsSpread Of(EffectsMaximum maximum, Link link)
    {
        var columns = maximum.Columns;
        var table = columns.Table;
        var factor = (double[])maximum.Ascent.Likelihood.Information.Clone();
        var independent = new FittedEffects
        {
            Link = link,
            Columns = table.Columns,
            Beta = OverAll(columns, columns.Raw(maximum.Ascent.Point)),
            Unknown = maximum.Unknown,
            Method = IndependentMethod,
            Why = Phrase.Of("models.flat"),
        };
        var clusters = Informing(table);
        var clustered = independent with { Method = ClusteredMethod, Degrees = Math.Max(1, clusters - 1) };
        if (columns.Width > 0 && !Cholesky.Factor(factor, columns.Width)) return new EffectsSpread(clustered, independent, clusters);
        var inverse = Cholesky.Inverse(factor, columns.Width);
        var raw = columns.RawCovariance(inverse);
        independent = independent with { Covariance = Square(columns, raw), Why = null };
        if (clusters < 2) return new EffectsSpread(clustered with { Why = Phrase.Of("models.one_group") }, independent, clusters);
        var robust = Robust(maximum.Ascent.Likelihood.GroupScores(), inverse, columns, clusters);
        for (var j = 0; j < columns.Width; j++)
            if (robust[j * columns.Width + j] <= Nothing * raw[j * columns.Width + j]) return new EffectsSpread(clustered with { Why = Phrase.Of("models.groups_alike") }, independent, clusters);
        return new EffectsSpread(clustered with { Covariance = Square(columns, robust), Why = null }, independent, clusters);
    }

    /// <summary>A⁻¹(m/(m − 1)·Σu uᵀ)A⁻¹ of raw effects, as m/(m − 1)·Σ(T·A⁻¹u)(T·A⁻¹u)ᵀ: sums of squares, which rounding can't make negative.</summary>
    private static double[] Robust(double[] scores, double[] inverse, EffectColumns columns, int clusters)
    {
        var k = columns.Width;
        var sum = new double[k * k];
        double[] scaled = new double[k], moved = new double[k];
        for (var at = 0; at < scores.Length; at += k)
        {
            for (var i = 0; i < k; i++)
            {
                scaled[i] = 0;
                for (var j = 0; j < k; j++) scaled[i] += inverse[i * k + j] * scores[at + j];
            }

            columns.Raw(scaled, moved);
            for (var i = 0; i < k; i++) for (var j = 0; j < k; j++) sum[i * k + j] += moved[i] * moved[j];
        }

        for (var i = 0; i < sum.Length; i++) sum[i] *= clusters / (clusters - 1.0);
        return sum;
    }

    private static int Informing(ModelTable table)
    {
        var count = 0;
        for (var g = 0; g < table.Groups; g++) if (table.GroupPatterns[g + 1] > table.GroupPatterns[g]) count++;
        return count;
    }

    private static double[] OverAll(EffectColumns columns, double[] effects)
    {
        var all = new double[columns.Table.Width];
        for (var j = 0; j < effects.Length; j++) all[columns.Kept[j]] = effects[j];
        return all;
    }

    private static double[] Square(EffectColumns columns, double[] covariance)
    {
        var width = columns.Table.Width;
        var all = new double[width * width];
        for (var i = 0; i < columns.Width; i++) for (var j = 0; j < columns.Width; j++) all[columns.Kept[i] * width + columns.Kept[j]] = covariance[i * columns.Width + j];
        return all;
    }

    /// <summary>The same placing for a fit with a prior.</summary>
    public static (double[] Beta, double[] Covariance) Placed(EffectColumns columns, double[] scaled, double[] covariance) => (OverAll(columns, columns.Raw(scaled)), Square(columns, columns.RawCovariance(covariance)));
}
