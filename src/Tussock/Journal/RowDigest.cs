using System.Collections.Immutable;

namespace Tussock.Journal;

/// <summary>A row as it stood in the folder at the season's last import: one 64-bit hash a field, so that a later import can tell who changed what.</summary>
/// <remarks>An empty cell has hash 0. Hashes tell an edited cell from an untouched one; they protect nothing. May be shared between threads.</remarks>
/// <param name="Hashes">Hashes in the order of the kind's digest fields; zeros at the end are left out.</param>
public readonly record struct RowDigest(ImmutableArray<ulong> Hashes)
{
    /// <summary>The hash of the field at an index; 0 beyond the end.</summary>
    public ulong this[int index] => index >= 0 && index < Hashes.Length ? Hashes[index] : 0;

    /// <summary>The digest without zeros at its end.</summary>
    public static RowDigest Of(ReadOnlySpan<ulong> hashes) => new([.. hashes.TrimEnd(0UL)]);

    /// <summary>Hash of a cell (FNV-1a, 64 bits, over UTF-16 units); 0 for an empty one, never 0 for another.</summary>
    /// <source>Fowler, Noll and Vo, the FNV non-cryptographic hash algorithm, RFC 9923. From memory, to be confirmed.</source>
    /// <check>fnv-1a</check>
    public static ulong Hash(string text)
    {
        if (text.Length == 0) return 0;
        var hash = 14695981039346656037UL;
        foreach (var unit in text)
        {
            hash = unchecked((hash ^ (byte)unit) * 1099511628211UL);
            hash = unchecked((hash ^ (byte)(unit >> 8)) * 1099511628211UL);
        }

        return Math.Max(hash, 1);
    }

    /// <inheritdoc/>
    public bool Equals(RowDigest other) => Hashes.AsSpan().SequenceEqual(other.Hashes.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode() => Hashes.Length == 0 ? 0 : Hashes[0].GetHashCode();
}
