using System.Collections.Immutable;

namespace Tussock.Evidence;

/// <summary>How likely each culprit class is for one nest, given its remains. Possible, never confirmed.</summary>
/// <param name="Culprits">Tokens of the classes; the last is "not on the list".</param>
/// <param name="Chances">Their chances, which add to 1.</param>
/// <param name="SignsRead">Number of signs that were read.</param>
public sealed record Belief(ImmutableArray<string> Culprits, ImmutableArray<double> Chances, int SignsRead)
{
    /// <summary>Chance of a class; that of "not on the list" for an unknown token.</summary>
    public double Of(string culprit) => Chances[Culprits.IndexOf(culprit) is var k and >= 0 ? k : Culprits.Length - 1];

    /// <summary>Index of the reading: the class on the list with the greatest chance; null for "cannot tell" (no sign read, a tie, or none on the list leads).</summary>
    public int? Reading
    {
        get
        {
            if (SignsRead == 0) return null;
            var top = Chances.Max();
            var leads = Chances.IndexOf(top);
            return leads == Chances.Length - 1 || Chances.Count(c => c >= top - 1e-12) > 1 ? null : leads;
        }
    }
}
