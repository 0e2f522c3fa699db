using System.Collections.Immutable;

namespace Tussock.Journal;

/// <summary>One season as the tables hold it, with what is remembered of its last import.</summary>
public sealed record StoredSeason
{
    /// <summary>Id of the season.</summary>
    public required Guid Id { get; init; }

    /// <summary>Records by kind, void ones among them; a kind without records may be absent.</summary>
    public IReadOnlyDictionary<string, ImmutableArray<StoredRecord>> Records { get; init; } = ImmutableDictionary<string, ImmutableArray<StoredRecord>>.Empty;

    /// <summary>Digests of the rows of the last import, by record.</summary>
    public IReadOnlyDictionary<Guid, RowDigest> Digests { get; init; } = ImmutableDictionary<Guid, RowDigest>.Empty;

    /// <summary>Fields that the digests of a kind are made of, in order. Fields are added behind, never moved.</summary>
    public IReadOnlyDictionary<string, ImmutableArray<string>> DigestFields { get; init; } = ImmutableDictionary<string, ImmutableArray<string>>.Empty;

    /// <summary>Whether nothing of the season is there yet.</summary>
    public bool IsNew => Of(JournalKind.Season).IsEmpty;

    /// <summary>The records of a kind, void ones among them.</summary>
    public ImmutableArray<StoredRecord> Of(string kind) => Records.TryGetValue(kind, out var list) ? list : [];

    /// <summary>The record of one of the describing kinds with this name; null when there is none.</summary>
    public StoredRecord? Named(string kind, string name)
    {
        var id = NaturalKey.Id(Id, kind, name, 1);
        foreach (var record in Of(kind)) if (record.Id == id) return record;
        return null;
    }
}
