namespace Tussock.Numerics;

/// <summary>Numbers that fill [0, 1) evenly without chance: one coordinate of Halton's sequence.</summary>
public static class RadicalInverse
{
    /// <summary>The digits of a whole number mirrored at the point.</summary>
    /// <param name="index">0 or more; Halton's sequence begins at 1.</param>
    /// <param name="radix">Base, at least 2; prime, and another one for each coordinate.</param>
    /// <returns>A number in [0, 1).</returns>
    /// <source>Halton 1960, Numerische Mathematik 2:84–90.</source>
    /// <check>published-values</check>
    public static double Of(int index, int radix)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(index);
        ArgumentOutOfRangeException.ThrowIfLessThan(radix, 2);
        var (sum, part) = (0.0, 1.0 / radix);
        for (; index > 0; index /= radix, part /= radix) sum += index % radix * part;
        return sum;
    }
}
