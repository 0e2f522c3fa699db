namespace Tussock.Models;

/// <summary>
/// The log-likelihood L(β, s) of one group, all of whose linear predictors are shifted by s, with its derivatives at one point:
/// S_j = ∂ʲL/∂sʲ, V_j = ∂ʲL/∂sʲ⁻¹∂β, M_j = ∂ʲL/∂sʲ⁻²∂β∂βᵀ.
/// </summary>
/// <remarks>Room that is used again: belongs to one thread at a time. Matrices are lower triangles, row by row.</remarks>
internal sealed class GroupDerivatives(int width)
{
    public double Value, S1, S2, S3, S4;

    public double[] V1 { get; } = new double[width];

    public double[] V2 { get; } = new double[width];

    public double[] V3 { get; } = new double[width];

    public double[] V4 { get; } = new double[width];

    public double[] M2 { get; } = new double[width * (width + 1) / 2];

    public double[] M3 { get; } = new double[width * (width + 1) / 2];

    public double[] M4 { get; } = new double[width * (width + 1) / 2];

    /// <summary>Everything to 0.</summary>
    public void Clear()
    {
        Value = S1 = S2 = S3 = S4 = 0;
        Array.Clear(V1);
        Array.Clear(V2);
        Array.Clear(V3);
        Array.Clear(V4);
        Array.Clear(M2);
        Array.Clear(M3);
        Array.Clear(M4);
    }

    /// <summary>Value, slopes and second derivatives alone to 0.</summary>
    public void ClearSecond()
    {
        Value = S1 = S2 = 0;
        Array.Clear(V1);
        Array.Clear(V2);
        Array.Clear(M2);
    }

    /// <summary>Adds a term that depends on one linear predictor η = x·β + s, with first and second derivative.</summary>
    public void Add(ReadOnlySpan<double> x, double first, double second)
    {
        S1 += first;
        S2 += second;
        double[] v1 = V1, v2 = V2, m2 = M2;
        var at = 0;
        for (var i = 0; i < x.Length; i++)
        {
            v1[i] += first * x[i];
            var row = second * x[i];
            v2[i] += row;
            for (var j = 0; j <= i; j++) m2[at++] += row * x[j];
        }
    }

    /// <summary>Adds the third and fourth derivatives of such a term.</summary>
    public void AddHigher(ReadOnlySpan<double> x, double third, double fourth)
    {
        S3 += third;
        S4 += fourth;
        double[] m3 = M3, m4 = M4;
        var at = 0;
        for (var i = 0; i < x.Length; i++)
        {
            double three = third * x[i], four = fourth * x[i];
            V3[i] += three;
            V4[i] += four;
            for (var j = 0; j <= i; j++, at++)
            {
                m3[at] += three * x[j];
                m4[at] += four * x[j];
            }
        }
    }
}
