using System.Collections.Immutable;

namespace Tussock.Evidence;

/// <summary>One observer's reading of one sign at one nest.</summary>
/// <param name="Nest">Index of the nest.</param>
/// <param name="Observer">Who read it.</param>
/// <param name="Seen">The sign and what was written.</param>
public readonly record struct ObservedSign(int Nest, string Observer, SignSeen Seen);

/// <summary>How well observers agree about one sign.</summary>
/// <param name="Sign">Token of the sign.</param>
/// <param name="Nests">Nests that two or more observers read for it.</param>
/// <param name="SharedReading">Share of pairs of observers who wrote the same; null without a nest.</param>
/// <param name="Kappa">Fleiss' kappa of two readings a nest.</param>
public sealed record SignAgreement(string Sign, int Nests, double? SharedReading, Estimate Kappa)
{
    /// <summary>Do observers read the same from the same remains, sign by sign?</summary>
    /// <param name="catalogue">Signs and values.</param>
    /// <param name="rows">Rows of remains with their observers, any order.</param>
    /// <returns>One row a sign that at least one nest has from two observers; of more than two the first two by name. A nest where an observer wrote several values of a sign is left out for it.</returns>
    /// <source>Fleiss 1971, Psychological Bulletin 76:378–382: readers that differ from nest to nest.</source>
    /// <check>fleiss-1971</check>
    public static ImmutableArray<SignAgreement> Of(SignCatalogue catalogue, IEnumerable<ObservedSign> rows)
    {
        var found = rows.Where(r => r.Observer.Length > 0).Select(r => (Row: r, Read: catalogue.Find(r.Seen.Sign, r.Seen.Value))).Where(r => r.Read is not null)
            .GroupBy(r => r.Read!.Value.Sign).OrderBy(g => g.Key);
        var all = ImmutableArray.CreateBuilder<SignAgreement>();
        foreach (var sign in found)
        {
            var pairs = sign.GroupBy(r => r.Row.Nest).OrderBy(n => n.Key).Select(nest => nest.GroupBy(r => r.Row.Observer, r => r.Read!.Value.Value, StringComparer.Ordinal)
                .OrderBy(o => o.Key, StringComparer.Ordinal).Select(o => o.Distinct().ToArray()).Where(v => v.Length == 1).Select(v => v[0]).Take(2).ToArray()).Where(p => p.Length == 2).ToArray();
            if (pairs.Length == 0) continue;
            var values = catalogue.Signs[sign.Key].Values.Length;
            all.Add(new SignAgreement(catalogue.Signs[sign.Key].Sign, pairs.Length, pairs.Average(p => p[0] == p[1] ? 1.0 : 0), FleissKappa.Of([.. pairs.Select(p => Row(p, values))])));
        }

        return all.ToImmutable();
    }

    private static int[] Row(int[] pair, int values)
    {
        var row = new int[values];
        foreach (var value in pair) row[value]++;
        return row;
    }
}
