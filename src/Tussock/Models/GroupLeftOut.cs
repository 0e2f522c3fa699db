using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>How far the answer of a grouped fit moves when one of its groups (lines) is left out: one step of Newton's method from the whole fit, for each group in turn.</summary>
/// <remarks>
/// θ − θ₋g ≈ (J − J_g)⁻¹u_g with J minus the second derivatives of the marginal log-likelihood by coefficients and spread, u_g and J_g what group g adds to gradient and J.
/// A spread of 0 stays 0. Squares of these moves added up are the jackknife's variance, which allows for whatever nests of a group share, also what the model does not know.
/// Only for fits with one kind of group.
/// </remarks>
/// <source>Bell and McCaffrey 2002, Survey Methodology 28, 169–181 (the jackknife as a bias-reduced cluster variance); one step for the whole refit: Pregibon 1981, Annals of Statistics 9, 705–724 (both from memory, to be confirmed).</source>
/// <check>before-after-control</check>
internal static class GroupLeftOut
{
    /// <summary>A parameter about which less than this share of its information is left says nothing any more.</summary>
    private const double Nothing = 1e-8;

    /// <summary>The moves by (all columns, spread), one row a group.</summary>
    /// <param name="fit">A fit with one kind of group.</param>
    /// <param name="column">Column that must stay known.</param>
    /// <returns>One row a group; null where nothing is known of the column without that group.</returns>
    public static double[]?[] Moves(GroupedFit fit, int column)
    {
        var size = fit.Table.Width + 1;
        // The column comes last but for the spread, so that what is tied to it is given up before it is.
        int[] free = [.. Enumerable.Range(0, size).Where(i => fit.Covariance[(i * size) + i] > 0).OrderBy(i => i == size - 1 ? 2 : i == column ? 1 : 0)];
        var whole = Information(fit, free, size);
        var scale = Enumerable.Range(0, free.Length).Select(i => 1 / Math.Sqrt(whole[(i * free.Length) + i])).ToArray();
        var (likelihood, own) = (GroupLikelihood.Of(fit.Table, fit.Link), new Derivatives(size));
        var quadrature = new AdaptiveGaussHermite(likelihood, GaussHermite.Of(fit.Options.Nodes));
        var room = new GroupDerivatives(fit.Table.Width);
        var moves = new double[]?[fit.Table.Groups];
        for (var g = 0; g < moves.Length; g++)
        {
            own.Clear();
            Group(fit, likelihood, quadrature, room, g, own);
            moves[g] = Move(whole, own, free, scale, Array.IndexOf(free, column));
        }

        return moves;
    }

    /// <summary>Minus the second derivatives at the maximum, of the free parameters.</summary>
    private static double[] Information(GroupedFit fit, int[] free, int size)
    {
        var n = free.Length;
        var factor = new double[n * n];
        for (var i = 0; i < n; i++) for (var j = 0; j < n; j++) factor[(i * n) + j] = fit.Covariance[(free[i] * size) + free[j]];
        return Cholesky.Factor(factor, n) ? Cholesky.Inverse(factor, n) : throw new ArgumentException("the covariance of a fit is positive", nameof(fit));
    }

    private static void Group(GroupedFit fit, GroupLikelihood likelihood, AdaptiveGaussHermite quadrature, GroupDerivatives room, int group, Derivatives own)
    {
        var (beta, sigma) = (fit.Typical.Beta, fit.Spreads[0].Sd.Value ?? 0);
        if (sigma > 0)
        {
            var mode = fit.Modes[group].Mode / sigma;
            quadrature.Add(group, beta, sigma, ref mode, own);
            return;
        }

        likelihood.Place(group, beta);
        likelihood.At(group, 0, room, higher: false);
        for (int i = 0, pair = 0; i < beta.Length; i++)
        {
            own.Gradient[i] = room.V1[i];
            for (var j = 0; j <= i; j++) own.Second[(i * own.Size) + j] = room.M2[pair++];
        }
    }

    /// <summary>Solves by Cholesky's method, passing over parameters of which nothing is left.</summary>
    private static double[]? Move(double[] whole, Derivatives own, int[] free, double[] scale, int column)
    {
        var n = free.Length;
        var (l, x, isKnown) = (new double[n * n], new double[n], new bool[n]);
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                if (j < i && !isKnown[j]) continue;
                var (a, b) = (Math.Max(free[i], free[j]), Math.Min(free[i], free[j]));
                var sum = (whole[(i * n) + j] + own.Second[(a * own.Size) + b]) * scale[i] * scale[j];
                for (var k = 0; k < j; k++) sum -= l[(i * n) + k] * l[(j * n) + k];
                if (j < i) l[(i * n) + j] = sum / l[(j * n) + j];
                else if (isKnown[i] = sum > Nothing) l[(i * n) + i] = Math.Sqrt(sum);
                else l.AsSpan(i * n, n).Clear();
            }
        }

        if (!isKnown[column]) return null;
        for (var i = 0; i < n; i++)
        {
            if (!isKnown[i]) continue;
            x[i] = own.Gradient[free[i]] * scale[i];
            for (var k = 0; k < i; k++) x[i] -= l[(i * n) + k] * x[k];
            x[i] /= l[(i * n) + i];
        }

        for (var i = n - 1; i >= 0; i--)
        {
            if (!isKnown[i]) continue;
            for (var k = i + 1; k < n; k++) x[i] -= l[(k * n) + i] * x[k];
            x[i] /= l[(i * n) + i];
        }

        var move = new double[own.Size];
        for (var i = 0; i < n; i++) move[free[i]] = x[i] * scale[i];
        return move;
    }
}
