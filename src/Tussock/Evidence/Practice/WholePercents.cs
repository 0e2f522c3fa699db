using System.Collections.Immutable;

namespace Tussock.Evidence.Practice;

/// <summary>Chances as whole percents, as people say them.</summary>
internal static class WholePercents
{
    /// <summary>Whole percents that add to 100: rounded down, the points that are left go to the largest remainders, of equals to the first.</summary>
    /// <param name="chances">Chances that add to 1.</param>
    internal static ImmutableArray<int> Of(IReadOnlyList<double> chances)
    {
        var whole = chances.Select(c => (int)Math.Floor(c * 100)).ToArray();
        foreach (var k in Enumerable.Range(0, whole.Length).OrderByDescending(k => (chances[k] * 100) - whole[k]).Take(100 - whole.Sum())) whole[k]++;
        return [.. whole];
    }
}
