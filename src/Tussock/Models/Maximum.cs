using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>A maximum of a log-likelihood, kept while the search goes on.</summary>
internal sealed class Maximum(double[] point, MarginalMaximum search, bool[] free)
{
    public double[] Point { get; } = point;

    public bool[] Free { get; } = free;

    public double Value { get; } = search.At.Value;

    public double[] Second { get; } = (double[])search.At.Second.Clone();

    public NewtonDiary Diary { get; } = search.Diary;

    public Derivatives Derivatives()
    {
        var made = new Derivatives(Point.Length) { Value = Value };
        Second.CopyTo(made.Second, 0);
        return made;
    }
}
