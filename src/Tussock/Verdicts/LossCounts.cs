using System.Collections.Immutable;
using Tussock.Fates;

namespace Tussock.Verdicts;

/// <summary>How many nests of a group were lost to what by the end of the trial.</summary>
/// <param name="ByCause">Count of each cause; causes without a loss may be missing.</param>
public sealed record LossCounts(ImmutableSortedDictionary<Cause, int> ByCause)
{
    /// <summary>No loss at all.</summary>
    public static LossCounts None { get; } = new(ImmutableSortedDictionary<Cause, int>.Empty);

    /// <summary>All losses.</summary>
    public int All => ByCause.Values.Sum();

    /// <summary>Losses whose cause is on record.</summary>
    public int Known => All - ByCause.GetValueOrDefault(Cause.NotRecorded);

    /// <summary>Losses with a cause on record that is not depredation.</summary>
    public int KnownOther => Known - ByCause.GetValueOrDefault(Cause.Depredated);

    /// <summary>Whether a third or more of the losses with a known cause are not depredation.</summary>
    public bool OthersMatter => Known > 0 && 3 * KnownOther >= Known;

    /// <summary>The causes other than depredation, most losses first.</summary>
    public IEnumerable<(Cause Cause, int Count)> Others => ByCause
        .Where(c => c.Value > 0 && c.Key is not (Cause.Depredated or Cause.NotRecorded or Cause.None))
        .OrderByDescending(c => c.Value).ThenBy(c => c.Key).Select(c => (c.Key, c.Value));

    /// <summary>Counts the nests lost by the end of the trial.</summary>
    /// <param name="spans">Nests of the group.</param>
    public static LossCounts From(NestSpans spans)
    {
        var counts = ImmutableSortedDictionary.CreateBuilder<Cause, int>();
        for (var i = 0; i < spans.Count; i++)
        {
            if (spans.Day28[i] == FateAt.Lost) counts[spans.Cause[i]] = counts.GetValueOrDefault(spans.Cause[i]) + 1;
        }

        return new LossCounts(counts.ToImmutable());
    }

    /// <summary>The token of a cause in records and results.</summary>
    public static string Token(Cause cause) => cause switch
    {
        Cause.None => "none",
        Cause.Depredated => "depredated",
        Cause.Trampled => "trampled",
        Cause.Flooded => "flooded",
        Cause.Burned => "burned",
        Cause.MownOrDriven => "mown_or_driven",
        Cause.Livestock => "livestock",
        Cause.Hail => "hail",
        Cause.Other => "other",
        _ => "not_recorded",
    };

    /// <summary>Same counts.</summary>
    public bool Equals(LossCounts? other) => other is not null && ByCause.SequenceEqual(other.ByCause);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(ByCause.Count, All);
}
