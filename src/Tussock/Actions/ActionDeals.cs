using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Actions;

/// <summary>Other ways in which the same starts could have been given to the land.</summary>
internal static class ActionDeals
{
    /// <summary>Drawn decks are tried this many times the wished number.</summary>
    private const int Patience = 20;

    /// <summary>All other ways, or so many of them drawn, each once.</summary>
    public static (ImmutableArray<int?[]> Ways, bool IsDrawn) Of(int?[] starts, ActionNests nests, ActionOptions options)
    {
        var years = new HashSet<int>[nests.Units];
        for (var u = 0; u < years.Length; u++) years[u] = [];
        for (var r = 0; r < nests.Nests.Count; r++) if (nests.Nests.IsWatched(r)) years[nests.Unit[r]].Add(nests.Year[r]);
        bool Serves(int?[] way) => !way.AsSpan().SequenceEqual(starts) && way.Select((s, u) => s is not { } start || (years[u].Any(y => y < start) && years[u].Any(y => y >= start))).All(x => x);
        if (Ways(starts) - 1 <= options.MostPlacebos) return ([.. All(starts).Where(Serves)], false);
        var chance = Seeded.Of(options.Seed, 9);
        var found = new Dictionary<string, int?[]>(StringComparer.Ordinal);
        for (var i = 0; i < Patience * options.MostPlacebos && found.Count < options.MostPlacebos; i++)
        {
            var way = (int?[])starts.Clone();
            for (var k = way.Length - 1; k > 0; k--)
            {
                var other = chance.NextBelow(k + 1);
                (way[k], way[other]) = (way[other], way[k]);
            }

            if (Serves(way)) found.TryAdd(string.Join(' ', way), way);
        }

        return ([.. found.Values], true);
    }

    /// <summary>n!/Π m!, n pieces of land and m of each start.</summary>
    private static double Ways(int?[] starts) =>
        Math.Round(Math.Exp(Tails.LogGamma(starts.Length + 1) - starts.GroupBy(s => s ?? -1).Sum(g => Tails.LogGamma(g.Count() + 1))));

    private static IEnumerable<int?[]> All(int?[] starts)
    {
        var left = starts.GroupBy(s => s ?? int.MaxValue).OrderBy(g => g.Key).Select(g => (Start: g.Key == int.MaxValue ? (int?)null : g.Key, Count: g.Count())).ToArray();
        var way = new int?[starts.Length];
        return Fill(0);

        IEnumerable<int?[]> Fill(int at)
        {
            if (at == way.Length)
            {
                yield return (int?[])way.Clone();
                yield break;
            }

            for (var k = 0; k < left.Length; k++)
            {
                if (left[k].Count == 0) continue;
                left[k].Count--;
                way[at] = left[k].Start;
                foreach (var whole in Fill(at + 1)) yield return whole;
                left[k].Count++;
            }
        }
    }
}
