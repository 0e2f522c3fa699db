using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The log-likelihood of one group with its random intercept σz integrated out, with exact gradient and second derivatives by (β, σ).</summary>
/// <remarks>
/// F(z) = L(β, σz) − z²/2 has its mode at ẑ with observed curvature c = 1 − σ²S2. With e = c^(−1/2), nodes x_k and weights w_k of the standard normal density,
/// t_k = ẑ + e·x_k: A = log e + log Σ w_k·exp(x_k²/2 + F(t_k)); one node is Laplace's approximation.
/// The nodes move with the parameters. From σS1 − ẑ = 0, with ŝ = σẑ the shift and subscripts i, j for derivatives by parameters (δ_i = 1 for σ, else 0):
/// c·ẑ_i = δ_i(S1 + σẑS2) + σV2_i, ŝ_i = σẑ_i + δ_iẑ, c_i = −2σδ_iS2 − σ²(V3_i + S3ŝ_i), and again for the second derivatives.
/// At node k: t_i = ẑ_i + x_k·e_i, s_i = σt_i + δ_it, G_i = V1_i + S1·s_i − t·t_i,
/// G_ij = M2_ij + V2_i·s_j + V2_j·s_i + S2·s_i·s_j − t_i·t_j + S1(t_iδ_j + t_jδ_i) + (σS1 − t)·t_ij; with p_k the shares of the nodes in the sum,
/// A_i = (log e)_i + Σp·G_i and A_ij = (log e)_ij + Σp·G_ij + Σp·G_iG_j − Σp·G_i·Σp·G_j. Belongs to one thread at a time.
/// </remarks>
/// <source>Pinheiro &amp; Bates 1995, Journal of Computational and Graphical Statistics 4, 12–35; Liu &amp; Pierce 1994, Biometrika 81, 624–629 (both from memory, to be confirmed). The derivatives are worked out here.</source>
/// <check>reference-seasons</check>
internal sealed class AdaptiveGaussHermite
{
    private readonly GroupLikelihood likelihood;
    private readonly ImmutableArray<double> nodes;
    private readonly double[] logWeights, logs;
    private readonly int size;
    private readonly GroupDerivatives mode;
    private readonly GroupDerivatives[] at;
    private readonly double[] z1, s1, c1, e1, z2, e2, t1, g1, mean;

    /// <summary>Room for groups of a likelihood.</summary>
    public AdaptiveGaussHermite(GroupLikelihood likelihood, GaussHermite rule)
    {
        this.likelihood = likelihood;
        nodes = rule.Nodes;
        logWeights = [.. rule.Weights.Select((w, k) => Math.Log(w) + rule.Nodes[k] * rule.Nodes[k] / 2)];
        logs = new double[nodes.Length];
        var width = likelihood.Table.Width;
        size = width + 1;
        mode = new GroupDerivatives(width);
        at = [.. nodes.Select(x => x == 0 ? mode : new GroupDerivatives(width))];
        var pairs = size * (size + 1) / 2;
        (z1, s1, c1, e1, z2, e2) = (new double[size], new double[size], new double[size], new double[size], new double[pairs], new double[pairs]);
        (t1, g1, mean) = (new double[size], new double[size], new double[size]);
    }

    /// <summary>Adds one group.</summary>
    /// <param name="group">Index of the group.</param>
    /// <param name="beta">Coefficients.</param>
    /// <param name="sigma">Standard deviation, &gt; 0.</param>
    /// <param name="z">Mode in standard deviations: a start on the way in, the mode on the way out.</param>
    /// <param name="sum">Where value, gradient and second derivatives are added.</param>
    /// <returns>Observed curvature at the mode, ≥ 1 where the terms are concave.</returns>
    public double Add(int group, ReadOnlySpan<double> beta, double sigma, ref double z, Derivatives sum)
    {
        likelihood.Place(group, beta);
        z = GroupMode.Find(likelihood, group, sigma, z);
        likelihood.At(group, sigma * z, mode, higher: true);
        var curvature = Math.Max(1 - sigma * sigma * mode.S2, 1e-6);
        Move(sigma, z, curvature);
        var e = 1 / Math.Sqrt(curvature);
        var highest = double.NegativeInfinity;
        for (var k = 0; k < nodes.Length; k++)
        {
            var t = z + e * nodes[k];
            if (nodes[k] != 0) likelihood.At(group, sigma * t, at[k], higher: false);
            logs[k] = logWeights[k] + at[k].Value - t * t / 2;
            highest = Math.Max(highest, logs[k]);
        }

        var total = 0.0;
        for (var k = 0; k < nodes.Length; k++) total += logs[k] = Math.Exp(logs[k] - highest);
        sum.Value += Math.Log(e) + highest + Math.Log(total);
        Array.Clear(mean);
        for (var k = 0; k < nodes.Length; k++)
            if (logs[k] / total is > 1e-25 and var share) AddNode(at[k], sigma, z + e * nodes[k], nodes[k], share, sum);
        Finish(curvature, sum);
        return curvature;
    }

    /// <summary>First and second derivatives of the mode ẑ, and of e; of c the first ones.</summary>
    private void Move(double sigma, double z, double c)
    {
        var last = size - 1;
        for (var i = 0; i < size; i++)
        {
            z1[i] = (i == last ? mode.S1 + sigma * z * mode.S2 : sigma * mode.V2[i]) / c;
            s1[i] = sigma * z1[i] + (i == last ? z : 0);
            c1[i] = -sigma * sigma * ((i == last ? 0 : mode.V3[i]) + mode.S3 * s1[i]) - (i == last ? 2 * sigma * mode.S2 : 0);
            e1[i] = -0.5 * c1[i] / (c * Math.Sqrt(c));
        }

        for (int i = 0, at2 = 0; i < size; i++)
        {
            var own = i == last;
            for (var j = 0; j <= i; j++, at2++)
            {
                var other = j == last;
                double v2j = other ? 0 : mode.V2[j], v3i = own ? 0 : mode.V3[i], v3j = other ? 0 : mode.V3[j], v4i = own ? 0 : mode.V4[i], v4j = other ? 0 : mode.V4[j];
                double m3 = own ? 0 : mode.M3[at2], m4 = own ? 0 : mode.M4[at2];
                var turn = (own ? z1[j] : 0) + (other ? z1[i] : 0);
                var curved = (own ? v2j + mode.S2 * s1[j] : 0) + (other ? (own ? 0 : mode.V2[i]) + mode.S2 * s1[i] : 0);
                z2[at2] = (curved + sigma * (m3 + v3i * s1[j] + v3j * s1[i] + mode.S3 * s1[i] * s1[j] + mode.S2 * turn)) / c;
                var c2 = -sigma * sigma * (m4 + v4i * s1[j] + v4j * s1[i] + mode.S4 * s1[i] * s1[j] + mode.S3 * (sigma * z2[at2] + turn));
                if (own) c2 -= 2 * sigma * (v3j + mode.S3 * s1[j]);
                if (other) c2 -= 2 * sigma * (v3i + mode.S3 * s1[i]) + 2 * mode.S2;
                e2[at2] = (0.75 * c1[i] * c1[j] / c - 0.5 * c2) / (c * Math.Sqrt(c));
            }
        }
    }

    private void AddNode(GroupDerivatives d, double sigma, double t, double x, double share, Derivatives sum)
    {
        var last = size - 1;
        Span<double> s = stackalloc double[size];
        for (var i = 0; i < size; i++)
        {
            t1[i] = z1[i] + x * e1[i];
            s[i] = sigma * t1[i] + (i == last ? t : 0);
            g1[i] = (i == last ? 0 : d.V1[i]) + d.S1 * s[i] - t * t1[i];
            mean[i] += share * g1[i];
        }

        var off = sigma * d.S1 - t;
        for (int i = 0, pair = 0; i < last; i++)
        {
            for (var j = 0; j <= i; j++, pair++)
                sum.Second[i * size + j] += share * (d.M2[pair] + d.V2[i] * s[j] + d.V2[j] * s[i] + d.S2 * s[i] * s[j] - t1[i] * t1[j] + off * (z2[pair] + x * e2[pair]) + g1[i] * g1[j]);
        }

        var row = last * size / 2;
        for (var j = 0; j < last; j++)
            sum.Second[last * size + j] += share * ((d.V2[j] + d.S2 * s[j]) * s[last] + d.S1 * t1[j] - t1[last] * t1[j] + off * (z2[row + j] + x * e2[row + j]) + g1[last] * g1[j]);
        sum.Second[last * size + last] += share * (d.S2 * s[last] * s[last] + 2 * d.S1 * t1[last] - t1[last] * t1[last] + off * (z2[row + last] + x * e2[row + last]) + g1[last] * g1[last]);
    }

    private void Finish(double c, Derivatives sum)
    {
        var root = Math.Sqrt(c);
        for (int i = 0, pair = 0; i < size; i++)
        {
            sum.Gradient[i] += root * e1[i] + mean[i];
            for (var j = 0; j <= i; j++, pair++) sum.Second[i * size + j] += root * e2[pair] - c * e1[i] * e1[j] - mean[i] * mean[j];
        }
    }
}
