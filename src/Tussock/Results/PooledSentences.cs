using Tussock.Records;

namespace Tussock.Results;

/// <summary>What stands before every number of several years.</summary>
public static class PooledSentences
{
    /// <summary>Which seasons were put together, then each caution; a sentence of its own where nothing is known to speak against it.</summary>
    public static IEnumerable<Phrase> Of(PooledYears pooled)
    {
        ArgumentNullException.ThrowIfNull(pooled);
        yield return Phrase.Of("pooling.of", ("seasons", string.Join(", ", pooled.Seasons)));
        foreach (var caution in pooled.Cautions) yield return caution;
        if (pooled.Cautions.IsEmpty) yield return Phrase.Of("pooling.none");
    }
}
