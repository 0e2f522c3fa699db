using System.Numerics;
using System.Runtime.CompilerServices;

namespace Tussock.Survival;

/// <summary>Distribution of a sum of independent whole numbers.</summary>
/// <remarks>Parts are joined two by two, neighbours first. At each joining the upper tail is cut where at most 1e-18 lies beyond, the lower one only where it can't be held (1e-290).</remarks>
internal sealed class Convolution
{
    private const double UpperTail = 1e-18, LowerTail = 1e-290;
    private readonly int first;
    private readonly double[] chances;

    private Convolution(int first, double[] chances) => (this.first, this.chances) = (first, chances);

    /// <summary>The sum of the parts, each given as P(value = 0), P(value = 1), …; no parts make a sum that is 0 for certain.</summary>
    internal static Convolution Of(double[][] parts)
    {
        if (parts.Length == 0) return new Convolution(0, [1]);
        var level = Array.ConvertAll(parts, part => Trimmed(0, part));
        while (level.Length > 1)
        {
            var next = new Convolution[(level.Length + 1) / 2];
            for (var i = 0; i < next.Length; i++) next[i] = (2 * i) + 1 < level.Length ? Joined(level[2 * i], level[(2 * i) + 1]) : level[2 * i];
            level = next;
        }

        return level[0];
    }

    /// <summary>P(sum ≤ value).</summary>
    internal double UpTo(int value)
    {
        double sum = 0;
        for (var i = 0; i < chances.Length && first + i <= value; i++) sum += chances[i];
        return sum;
    }

    /// <summary>Adds factor × from to the beginning of <paramref name="into"/>.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    internal static void Add(ReadOnlySpan<double> from, double factor, Span<double> into)
    {
        var (i, many) = (0, new Vector<double>(factor));
        for (; i <= from.Length - Vector<double>.Count; i += Vector<double>.Count)
        {
            var place = into.Slice(i, Vector<double>.Count);
            (new Vector<double>(place) + (many * new Vector<double>(from[i..]))).CopyTo(place);
        }

        for (; i < from.Length; i++) into[i] += factor * from[i];
    }

    private static Convolution Joined(Convolution a, Convolution b)
    {
        var sum = new double[a.chances.Length + b.chances.Length - 1];
        for (var i = 0; i < a.chances.Length; i++) if (a.chances[i] > 0) Add(b.chances, a.chances[i], sum.AsSpan(i));
        return Trimmed(a.first + b.first, sum);
    }

    private static Convolution Trimmed(int first, double[] chances)
    {
        var (from, to) = (0, chances.Length);
        while (from < to - 1 && chances[from] < LowerTail) from++;
        for (var beyond = chances[to - 1]; to > from + 1 && beyond <= UpperTail; beyond += chances[to - 1]) to--;
        return new Convolution(first + from, chances[from..to]);
    }
}
