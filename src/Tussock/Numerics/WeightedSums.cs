using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Tussock.Numerics;

/// <summary>Sums of products over columns, four lanes at a time: always the same order of addition, whatever the machine.</summary>
public static class WeightedSums
{
    /// <summary>Σ a·b.</summary>
    /// <param name="a">One column.</param>
    /// <param name="b">Another of the same length.</param>
    public static double Of(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        ReadOnlySpan<Vector256<double>> x = MemoryMarshal.Cast<double, Vector256<double>>(a), y = MemoryMarshal.Cast<double, Vector256<double>>(b[..a.Length]);
        Vector256<double> even = default, odd = default;
        var i = 0;
        for (; i + 1 < x.Length; i += 2)
        {
            even += x[i] * y[i];
            odd += x[i + 1] * y[i + 1];
        }

        if (i < x.Length) even += x[i] * y[i];
        var sum = Vector256.Sum(even + odd);
        for (var rest = x.Length * 4; rest < a.Length; rest++) sum += a[rest] * b[rest];
        return sum;
    }

    /// <summary>Σ w·a·b.</summary>
    /// <param name="w">Weights.</param>
    /// <param name="a">One column of the same length.</param>
    /// <param name="b">Another of the same length.</param>
    public static double Of(ReadOnlySpan<double> w, ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var v = MemoryMarshal.Cast<double, Vector256<double>>(w);
        ReadOnlySpan<Vector256<double>> x = MemoryMarshal.Cast<double, Vector256<double>>(a[..w.Length]), y = MemoryMarshal.Cast<double, Vector256<double>>(b[..w.Length]);
        Vector256<double> even = default, odd = default;
        var i = 0;
        for (; i + 1 < v.Length; i += 2)
        {
            even += v[i] * x[i] * y[i];
            odd += v[i + 1] * x[i + 1] * y[i + 1];
        }

        if (i < v.Length) even += v[i] * x[i] * y[i];
        var sum = Vector256.Sum(even + odd);
        for (var rest = v.Length * 4; rest < w.Length; rest++) sum += w[rest] * a[rest] * b[rest];
        return sum;
    }

    /// <summary>Adds factor·a to <paramref name="to"/>.</summary>
    public static void Add(Span<double> to, double factor, ReadOnlySpan<double> a)
    {
        var y = MemoryMarshal.Cast<double, Vector256<double>>(to);
        var x = MemoryMarshal.Cast<double, Vector256<double>>(a[..to.Length]);
        for (var i = 0; i < y.Length; i++) y[i] += x[i] * factor;
        for (var rest = y.Length * 4; rest < to.Length; rest++) to[rest] += factor * a[rest];
    }
}
