using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Effects with one covariance: all that a prediction needs of a fit, whatever model it came from.</summary>
/// <remarks>May be shared between threads; arrays must not be changed by readers.</remarks>
public sealed record FittedEffects
{
    private const double Rounding = 1e-14;

    /// <summary>The link.</summary>
    public required Link Link { get; init; }

    /// <summary>Names of the k columns.</summary>
    public required ImmutableArray<string> Columns { get; init; }

    /// <summary>Effects on the raw scale, length k; 0 for a column without one.</summary>
    public required double[] Beta { get; init; }

    /// <summary>Covariance of the effects, k × k row by row; rows of 0 for a column without one. Null when it can't be had; <see cref="Why"/> says why.</summary>
    public double[]? Covariance { get; init; }

    /// <summary>Why there is no covariance.</summary>
    public Phrase? Why { get; init; }

    /// <summary>Degrees of freedom of Student's t for limits; null: normal.</summary>
    public int? Degrees { get; init; }

    /// <summary>Method of the covariance, a fixed English token.</summary>
    public required string Method { get; init; }

    /// <summary>Directions of the effects about which the table says nothing (columns left out, separation), each of length k: predictions across them can't be had.</summary>
    public ImmutableArray<double[]> Unknown { get; init; } = [];

    /// <summary>Whether x·β is known: x lies across no unknown direction.</summary>
    public bool Knows(ReadOnlySpan<double> x)
    {
        foreach (var direction in Unknown)
        {
            double sum = 0, size = 0;
            for (var j = 0; j < x.Length; j++)
            {
                sum += x[j] * direction[j];
                size += Math.Abs(x[j] * direction[j]);
            }

            if (Math.Abs(sum) > 1e-8 * size) return false;
        }

        return true;
    }

    /// <summary>Factor of a standard error for limits at a level.</summary>
    internal double Reach(double level) => Degrees is { } degrees ? Numerics.Tails.StudentQuantile((1 + level) / 2, degrees) : Numerics.Tails.NormalQuantile((1 + level) / 2);

    /// <summary>aᵀVa; 0 where it is no more than rounding.</summary>
    internal double? Variance(ReadOnlySpan<double> a)
    {
        if (Covariance is null) return null;
        double sum = 0, size = 0;
        for (var i = 0; i < a.Length; i++)
        {
            for (var j = 0; j < a.Length; j++)
            {
                var term = a[i] * a[j] * Covariance[i * a.Length + j];
                sum += term;
                size += Math.Abs(term);
            }
        }

        return sum > Rounding * size ? sum : 0;
    }
}
