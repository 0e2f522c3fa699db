namespace Tussock.Models;

/// <summary>Value, gradient and second derivatives of a log-likelihood at one point; room that is used again.</summary>
/// <param name="size">Number of parameters.</param>
internal sealed class Derivatives(int size)
{
    public int Size { get; } = size;

    public double Value { get; set; }

    public double[] Gradient { get; } = new double[size];

    /// <summary>Second derivatives, row by row; only the lower triangle need be filled.</summary>
    public double[] Second { get; } = new double[size * size];

    public void Clear()
    {
        Value = 0;
        Array.Clear(Gradient);
        Array.Clear(Second);
    }

    public void Add(Derivatives other)
    {
        Value += other.Value;
        for (var i = 0; i < Gradient.Length; i++) Gradient[i] += other.Gradient[i];
        for (var i = 0; i < Second.Length; i++) Second[i] += other.Second[i];
    }
}
