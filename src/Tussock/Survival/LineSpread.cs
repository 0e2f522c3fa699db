using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>Cluster-robust variance of the log cumulative hazard at a two-piece maximum, and the limits it gives.</summary>
internal readonly struct LineSpread(PieceLikelihood likelihood, NestSpans nests, TwoPieceMaximum top, Trial trial, double level)
{
    /// <summary>Below this the score sums of all lines are 0 but for rounding.</summary>
    private const double Alike = 1e-7;

    /// <summary>Both hazards free: g'A⁻¹(m/(m − 1)·ΣU U')A⁻¹g with g the gradient of log H(D); null when the lines do not differ.</summary>
    public ClusteredLimits? Both()
    {
        var s = likelihood.At(top.H1, top.H2);
        var (u11, u12, u22) = likelihood.LineScores(nests, top.H1, top.H2);
        var determinant = s.I11 * s.I22 - s.I12 * s.I12;
        double c1 = trial.FirstCheck / H, c2 = (trial.Days - trial.FirstCheck) / H;
        double w1 = (s.I22 * c1 - s.I12 * c2) / determinant, w2 = (s.I11 * c2 - s.I12 * c1) / determinant;
        return Limits(w1 * w1 * u11 + 2 * w1 * w2 * u12 + w2 * w2 * u22);
    }

    /// <summary>The hazards move along one direction only.</summary>
    public ClusteredLimits? Along((double V1, double V2) v)
    {
        var s = likelihood.At(top.H1, top.H2);
        var (u11, u12, u22) = likelihood.LineScores(nests, top.H1, top.H2);
        var information = v.V1 * v.V1 * s.I11 + 2 * v.V1 * v.V2 * s.I12 + v.V2 * v.V2 * s.I22;
        var w = (trial.FirstCheck * v.V1 + (trial.Days - trial.FirstCheck) * v.V2) / H / information;
        return Limits(w * w * (v.V1 * v.V1 * u11 + 2 * v.V1 * v.V2 * u12 + v.V2 * v.V2 * u22));
    }

    private double H => trial.FirstCheck * top.H1 + (trial.Days - trial.FirstCheck) * top.H2;

    private ClusteredLimits? Limits(double sum)
    {
        double m = likelihood.Lines, se = Math.Sqrt(m / (m - 1) * Math.Max(0, sum));
        if (!(se >= Alike)) return null;
        var q = Tails.StudentQuantile((1 + level) / 2, m - 1) * se;
        return new ClusteredLimits(se, Math.Exp(-H * Math.Exp(q)), Math.Exp(-H * Math.Exp(-q)));
    }
}
