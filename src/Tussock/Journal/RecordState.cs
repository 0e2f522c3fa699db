using System.Collections.Immutable;

namespace Tussock.Journal;

/// <summary>A change that nobody has replaced, and its value of a field.</summary>
/// <param name="Change">Id of the change.</param>
/// <param name="Value">Its value.</param>
public readonly record struct Head(Guid Change, string Value);

/// <summary>One field as the journal leaves it.</summary>
/// <param name="Name">Name of the field.</param>
/// <param name="Heads">Its heads by change id, at least one.</param>
public sealed record FieldState(string Name, ImmutableArray<Head> Heads)
{
    /// <summary>The value shown: that of the head with the greatest change id.</summary>
    public string Value => Heads[^1].Value;

    /// <summary>Whether heads say different things; all are kept until a change replaces them.</summary>
    public bool IsConflict
    {
        get
        {
            foreach (var head in Heads) if (head.Value != Value) return true;
            return false;
        }
    }

    /// <summary>Ids of the heads: what a change that settles the field replaces.</summary>
    public ImmutableArray<Guid> HeadIds => [.. Heads.Select(h => h.Change)];

    /// <inheritdoc/>
    public bool Equals(FieldState? other) => other is not null && Name == other.Name && Heads.SequenceEqual(other.Heads);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Name, Value, Heads.Length);
}

/// <summary>One record as the journal leaves it.</summary>
/// <param name="Season">Id of its season.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Id">Its id.</param>
/// <param name="IsCreated">Whether its creation has come; until then its other changes wait.</param>
/// <param name="Fields">Its fields by name, ordinal order.</param>
public sealed record RecordState(Guid Season, string Kind, Guid Id, bool IsCreated, ImmutableArray<FieldState> Fields)
{
    /// <summary>The field with this name; null when no change has set it.</summary>
    public FieldState? Field(string name)
    {
        foreach (var field in Fields) if (field.Name == name) return field;
        return null;
    }

    /// <summary>The values shown, empty ones left out.</summary>
    public StoredRecord Shown() => new(Id, [.. Fields.Where(f => f.Value.Length > 0).Select(f => new FieldValue(f.Name, f.Value))]);

    /// <inheritdoc/>
    public bool Equals(RecordState? other) =>
        other is not null && Season == other.Season && Kind == other.Kind && Id == other.Id && IsCreated == other.IsCreated && Fields.SequenceEqual(other.Fields);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Kind, Id, Fields.Length);
}
