using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>A direction of the effects along which the log-likelihood never falls: the sign of separation.</summary>
/// <remarks>
/// Let a_p be the change of the log hazard of pattern p along the direction. The likelihood never falls if a ≤ 0 wherever days were watched intact, a = 0 wherever a loss was timed,
/// and a ≥ 0 in some piece of every loss; if a differs from 0 anywhere the maximum lies at infinity (Albert and Anderson 1984 for the logistic model: complete or quasi-complete separation).
/// At the limit, patterns with a &lt; 0 lose nothing and losses with a &gt; 0 were sure: both add 0, and what is left is the likelihood of a smaller table.
/// A candidate is the step of Newton's method, which turns into such a direction when the maximum is infinite; it is cleaned and then held to the conditions, so nothing is taken for separation that is not.
/// </remarks>
internal static class Recession
{
    /// <summary>Shares of the largest change below which a pattern is taken to stand still, coarsest first.</summary>
    private static readonly double[] Still = [1e-3, 1e-5, 1e-7];

    private const double Exact = 1e-9;

    /// <summary>The direction of change of each pattern, −1, 0 or 1 in log hazard; null when the candidate is no such direction.</summary>
    public static sbyte[]? Signs(EffectColumns columns, Link link, double[] candidate)
    {
        foreach (var share in Still)
        {
            var change = Changes(columns, candidate, link);
            var least = share * Largest(change);
            if (!(least > 0) || !double.IsFinite(least)) return null;
            change = Changes(columns, Cleaned(columns, candidate, p => Math.Abs(change[p]) <= least), link);
            var exact = Exact * Largest(change);
            var signs = new sbyte[change.Length];
            for (var p = 0; p < signs.Length; p++) signs[p] = Math.Abs(change[p]) <= exact ? (sbyte)0 : (sbyte)Math.Sign(change[p]);
            if (exact > 0 && NeverFalls(columns.Table, signs)) return signs;
        }

        return null;
    }

    /// <summary>The table that is left at the end of such a direction.</summary>
    public static ModelTable Rest(ModelTable table, sbyte[] signs)
    {
        var maker = new RestMaker(table, signs);
        for (var g = 0; g < table.Groups; g++) maker.Group(g);
        return maker.Table();
    }

    private static bool NeverFalls(ModelTable table, sbyte[] signs)
    {
        for (var p = 0; p < signs.Length; p++)
            if ((table.Watched[p] > 0 && signs[p] > 0) || (table.Timed[p] > 0 && signs[p] != 0)) return false;
        for (var loss = 0; loss < table.Losses; loss++)
        {
            var highest = -1;
            for (var piece = table.LossPieces[loss]; piece < table.LossPieces[loss + 1]; piece++) highest = Math.Max(highest, signs[table.PiecePattern[piece]]);
            if (highest < 0) return false;
        }

        return true;
    }

    /// <summary>The candidate moved so that the patterns that stand still do so exactly.</summary>
    private static double[] Cleaned(EffectColumns columns, double[] candidate, Func<int, bool> still)
    {
        var dependence = LinearDependence.Of(columns.Gram(still), columns.Width);
        var clean = (double[])candidate.Clone();
        for (var f = 0; f < dependence.Free.Length; f++)
        {
            clean[dependence.Free[f]] = 0;
            for (var t = 0; t < dependence.Tied.Length; t++) clean[dependence.Free[f]] -= dependence.Weights[t][f] * candidate[dependence.Tied[t]];
        }

        return clean;
    }

    private static double[] Changes(EffectColumns columns, double[] direction, Link link)
    {
        var n = columns.Table.Patterns;
        var change = new double[n];
        for (var j = 0; j < columns.Width; j++) WeightedSums.Add(change, link == Link.LogHazard ? direction[j] : -direction[j], columns.Scaled.AsSpan(j * n, n));
        for (var p = 0; p < n; p++) if (!columns.Informs(p)) change[p] = 0;
        return change;
    }

    private static double Largest(double[] change)
    {
        var largest = 0.0;
        foreach (var c in change) largest = Math.Max(largest, Math.Abs(c));
        return largest;
    }
}
