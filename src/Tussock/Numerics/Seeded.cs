using System.Numerics;

namespace Tussock.Numerics;

/// <summary>Chance from a seed: the same seed and stream give the same numbers on every machine, for ever.</summary>
/// <remarks>
/// xoshiro256** with its state filled by SplitMix64. Period 2^256 − 1. Not for secrets. One generator belongs to one thread:
/// parallel work takes one stream an index, so that the number of threads never enters a result.
/// </remarks>
/// <source>Blackman &amp; Vigna 2021, ACM Transactions on Mathematical Software 47(4), article 36 (xoshiro256**); Steele, Lea &amp; Flood 2014, OOPSLA, 453–472 (SplitMix).</source>
/// <check>seeded-generator</check>
public sealed class Seeded
{
    private ulong a, b, c, d;

    /// <summary>A generator in a given state.</summary>
    /// <exception cref="ArgumentException">All four words are 0: the generator would stand still.</exception>
    public Seeded(ulong a, ulong b, ulong c, ulong d)
    {
        if ((a | b | c | d) == 0) throw new ArgumentException("The state must not be all zeros.");
        (this.a, this.b, this.c, this.d) = (a, b, c, d);
    }

    /// <summary>The generator of a seed.</summary>
    /// <param name="seed">Any number.</param>
    /// <param name="stream">Index of an independent stream of the same seed, for example the number of a resample; default 0.</param>
    public static Seeded Of(ulong seed, ulong stream = 0)
    {
        var mixed = stream;
        var state = seed ^ (stream == 0 ? 0 : SplitMix(ref mixed));
        return new Seeded(SplitMix(ref state), SplitMix(ref state), SplitMix(ref state), SplitMix(ref state));
    }

    /// <summary>One step of SplitMix64.</summary>
    public static ulong SplitMix(ref ulong state)
    {
        unchecked
        {
            state += 0x9E3779B97F4A7C15;
            var z = (state ^ (state >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return z ^ (z >> 31);
        }
    }

    /// <summary>64 random bits.</summary>
    public ulong NextBits()
    {
        unchecked
        {
            var result = BitOperations.RotateLeft(b * 5, 7) * 9;
            var t = b << 17;
            c ^= a;
            d ^= b;
            b ^= c;
            a ^= d;
            c ^= t;
            d = BitOperations.RotateLeft(d, 45);
            return result;
        }
    }

    /// <summary>A number in [0, 1), a multiple of 2^−53.</summary>
    public double NextUniform() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>A whole number from 0 to <paramref name="n"/> − 1, all equally likely (high bits, with rejection).</summary>
    /// <param name="n">At least 1.</param>
    public int NextBelow(int n)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 1);
        var limit = ulong.MaxValue - (ulong.MaxValue % (ulong)n);
        ulong bits;
        do bits = NextBits();
        while (bits >= limit);
        return (int)(bits % (ulong)n);
    }

    /// <summary>A standard normal number, by the inverse of Φ at a point strictly inside (0, 1).</summary>
    public double NextNormal() => Tails.NormalQuantile(((NextBits() >> 12) + 0.5) * (1.0 / (1UL << 52)));
}
