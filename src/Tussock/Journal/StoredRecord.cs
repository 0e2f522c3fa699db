using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.InteropServices;

namespace Tussock.Journal;

/// <summary>A field and the value shown.</summary>
/// <param name="Name">Name of the field.</param>
/// <param name="Value">Its value, not empty.</param>
public readonly record struct FieldValue(string Name, string Value);

/// <summary>A record as the tables hold it: its id and the values shown.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Fields">Its filled fields by name, ordinal order.</param>
public sealed record StoredRecord(Guid Id, ImmutableArray<FieldValue> Fields)
{
    /// <summary>The record that a creation makes when nothing else is known of it: what folding that one change gives, without the fold.</summary>
    public static StoredRecord Of(Change creation)
    {
        var fields = creation.Fields.Where(f => f.Value.Length > 0).Select(f => new FieldValue(f.Name, f.Value)).ToArray();
        Array.Sort(fields, static (a, b) => string.CompareOrdinal(a.Name, b.Name));
        return new StoredRecord(creation.Record, ImmutableCollectionsMarshal.AsImmutableArray(fields));
    }

    /// <summary>The value of a field; empty when it has none.</summary>
    public string Text(string field)
    {
        foreach (var one in Fields) if (one.Name == field) return one.Value;
        return "";
    }

    /// <summary>Whether it is taken out of the season.</summary>
    public bool IsVoid => Text(FieldName.Void) == "yes";

    /// <summary>Place of its row in the file; after all others when it came without a file.</summary>
    public double Place => double.TryParse(Text(FieldName.Row), NumberStyles.Float, CultureInfo.InvariantCulture, out var place) ? place : double.MaxValue;

    /// <inheritdoc/>
    public bool Equals(StoredRecord? other) => other is not null && Id == other.Id && Fields.SequenceEqual(other.Fields);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Id, Fields.Length);
}
