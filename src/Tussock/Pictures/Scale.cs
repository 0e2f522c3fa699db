using System.Collections.Immutable;

namespace Tussock.Pictures;

/// <summary>A straight scale from values to places on the paper.</summary>
/// <param name="From">Value at <paramref name="FromAt"/>.</param>
/// <param name="To">Value at <paramref name="ToAt"/>; not equal to <paramref name="From"/>.</param>
/// <param name="FromAt">Place of the first value, in points.</param>
/// <param name="ToAt">Place of the last value, in points.</param>
public readonly record struct Scale(double From, double To, double FromAt, double ToAt)
{
    /// <summary>The place of a value; values outside go to the nearer end.</summary>
    public double At(double value) => FromAt + ((Math.Clamp(value, Math.Min(From, To), Math.Max(From, To)) - From) / (To - From) * (ToAt - FromAt));

    /// <summary>Whether a value lies on the scale, ends included.</summary>
    public bool Holds(double value) => value >= Math.Min(From, To) && value <= Math.Max(From, To);

    /// <summary>Round values from 0 to at least <paramref name="highest"/>, at steps of 1, 2 or 5 times a power of ten.</summary>
    /// <param name="highest">The highest value that must fit; 1 when it is 0 or less.</param>
    /// <param name="steps">About how many steps.</param>
    public static ImmutableArray<double> Round(double highest, int steps = 5)
    {
        var top = highest > 0 ? highest : 1;
        var rough = top / steps;
        var ten = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        var step = (rough / ten) switch { <= 1 => 1, <= 2 => 2, <= 5 => 5, _ => 10 } * ten;
        var count = (int)Math.Ceiling((top / step) - 1e-9);
        return [.. Enumerable.Range(0, count + 1).Select(i => i * step)];
    }
}
