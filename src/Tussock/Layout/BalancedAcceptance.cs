using Tussock.Numerics;

namespace Tussock.Layout;

/// <summary>Points spread evenly over a piece of land: Halton's sequence from a random start, laid over a rectangle round the land; points outside are passed over.</summary>
/// <remarks>
/// Any neighbours in the sequence are spread as well as all of them, so that the first lines of a layout are a spread layout themselves. The start is drawn
/// anew until its first point lies on the land; then every point of the land is equally likely to be in the sample. Starts are drawn below 2²⁴ and 3¹⁵, which
/// divides a rectangle of 10 km into pieces of less than a millimetre.
/// </remarks>
/// <source>Robertson, Brown, McDonald &amp; Jaksons 2013, Biometrics 69:776–784, doi 10.1111/biom.12059; the first point on the land: Robertson, McDonald, Price &amp; Brown 2017, Statistics &amp; Probability Letters 129:107–112, doi 10.1016/j.spl.2017.05.004 (known from its abstract and from memory).</source>
/// <check>published-values</check>
public sealed class BalancedAcceptance
{
    private const int StartsOfTwo = 1 << 24;
    private const int StartsOfThree = 14_348_907;
    private const int MostStarts = 2_000;
    private readonly int two, three;

    private BalancedAcceptance(int two, int three) => (this.two, this.three) = (two, three);

    /// <summary>The sequence from a given start.</summary>
    /// <param name="two">Index in base 2, 0 or more.</param>
    /// <param name="three">Index in base 3, 0 or more.</param>
    public static BalancedAcceptance From(int two, int three) => new(two, three);

    /// <summary>A random start whose first point is accepted; after 2,000 draws without one the last is taken, and points are passed over.</summary>
    internal static BalancedAcceptance Draw(Seeded chance, Func<(double X, double Y), bool> accepts)
    {
        var sequence = new BalancedAcceptance(chance.NextBelow(StartsOfTwo), chance.NextBelow(StartsOfThree));
        for (var i = 1; i < MostStarts && !accepts(sequence.Point(0)); i++) sequence = new BalancedAcceptance(chance.NextBelow(StartsOfTwo), chance.NextBelow(StartsOfThree));
        return sequence;
    }

    /// <summary>The point with this number.</summary>
    /// <param name="number">0 or more.</param>
    /// <returns>Shares of the rectangle's two sides, [0, 1) each.</returns>
    public (double X, double Y) Point(int number) => (RadicalInverse.Of(two + number, 2), RadicalInverse.Of(three + number, 3));
}
