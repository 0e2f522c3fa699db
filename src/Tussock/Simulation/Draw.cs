using Tussock.Numerics;

namespace Tussock.Simulation;

/// <summary>Draws from a seeded generator that invented seasons need.</summary>
public static class Draw
{
    /// <summary>A number of events when <paramref name="mean"/> are expected and each comes independently.</summary>
    /// <param name="mean">Expected number, in [0, 500].</param>
    /// <param name="chance">The generator.</param>
    /// <remarks>By the inverse of the distribution function, term by term; 500 keeps the first term above the smallest double.</remarks>
    /// <source>Devroye 1986, Non-Uniform Random Variate Generation, section X.3 (sequential search).</source>
    public static int Poisson(double mean, Seeded chance)
    {
        if (mean is not (>= 0 and <= 500)) throw new ArgumentOutOfRangeException(nameof(mean));
        var left = chance.NextUniform();
        var term = Math.Exp(-mean);
        var count = 0;
        while (left >= term && (term > 0 || count < mean))
        {
            left -= term;
            count++;
            term *= mean / count;
        }

        return count;
    }

    /// <summary>One index, each with a chance in proportion to its weight.</summary>
    /// <param name="weights">Weights, none negative, at least one above 0.</param>
    /// <param name="chance">The generator.</param>
    public static int Weighted(ReadOnlySpan<double> weights, Seeded chance)
    {
        var total = 0.0;
        foreach (var weight in weights) total += weight;
        if (!(total > 0)) throw new ArgumentException("At least one weight must be above 0.", nameof(weights));
        var left = chance.NextUniform() * total;
        var last = 0;
        for (var i = 0; i < weights.Length; i++)
        {
            if (weights[i] <= 0) continue;
            last = i;
            left -= weights[i];
            if (left < 0) return i;
        }

        return last;
    }

    /// <summary>Some of the items, all sets equally likely, in the order in which they were drawn.</summary>
    /// <param name="items">The items.</param>
    /// <param name="count">How many, at most all.</param>
    /// <param name="chance">The generator.</param>
    /// <source>Fisher–Yates shuffle, stopped after <paramref name="count"/> places: Knuth 1997, The Art of Computer Programming 2, algorithm P.</source>
    public static T[] Without<T>(IEnumerable<T> items, int count, Seeded chance)
    {
        var pool = items.ToArray();
        ArgumentOutOfRangeException.ThrowIfGreaterThan(count, pool.Length);
        for (var i = 0; i < count; i++)
        {
            var j = i + chance.NextBelow(pool.Length - i);
            (pool[i], pool[j]) = (pool[j], pool[i]);
        }

        return pool[..count];
    }

    /// <summary>One of the items, all equally likely.</summary>
    public static T One<T>(ReadOnlySpan<T> items, Seeded chance) => items[chance.NextBelow(items.Length)];
}
