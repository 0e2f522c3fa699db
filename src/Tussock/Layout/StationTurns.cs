using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Layout;

/// <summary>Whose turn it is at each station of a line: the cover class, and the flag.</summary>
internal static class StationTurns
{
    /// <summary>The stations of a line.</summary>
    /// <remarks>
    /// Where only half get flags, every second one of each class gets one, beginning by chance with the first or the second: flags at every second station of the
    /// line would, with classes in turn, give all flags to one class, and cover could not be told from flags.
    /// </remarks>
    internal static ImmutableArray<PlannedStation> Of(int count, LayoutRules rules, Seeded chance)
    {
        var covers = Covers(count, rules, chance);
        var flagged = chance.NextBelow(2);
        var before = new Dictionary<string, int>(StringComparer.Ordinal);
        var stations = ImmutableArray.CreateBuilder<PlannedStation>(count);
        for (var i = 0; i < count; i++)
        {
            var nth = before[covers[i]] = before.GetValueOrDefault(covers[i]) + 1;
            stations.Add(new PlannedStation(i + 1, covers[i], !rules.HalfFlagged || nth % 2 == flagged));
        }

        return stations.MoveToImmutable();
    }

    private static string[] Covers(int count, LayoutRules rules, Seeded chance)
    {
        var covers = new string[count];
        if (rules.Covers.IsEmpty) Array.Fill(covers, "");
        for (var i = 0; !rules.Covers.IsEmpty && i < count; i += rules.Covers.Length)
        {
            // Sorting by random bits is a shuffle: two of 64 bits are never equal in practice, and the sort is stable.
            var block = rules.Turns == CoverTurns.InTurn ? rules.Covers : [.. rules.Covers.Select(c => (Cover: c, Key: chance.NextBits())).OrderBy(c => c.Key).Select(c => c.Cover)];
            for (var k = 0; k < block.Length && i + k < count; k++) covers[i + k] = block[k];
        }

        return covers;
    }
}
