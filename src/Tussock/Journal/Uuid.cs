using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Tussock.Journal;

/// <summary>Ids from names (version 5) and from a given time and given chance (version 7).</summary>
/// <source>Davis, Peabody and Leach 2024, RFC 9562, sections 5.5, 5.7 and 6.2, test vectors in appendices A.4 and A.6.</source>
/// <check>rfc-9562</check>
public static class Uuid
{
    /// <summary>The namespace of seasons: ids of seasons are made from it and the season's name.</summary>
    public static Guid Seasons { get; } = new("6f5a3c1e-8d24-5b7a-9c60-2e41d7b0a853");

    /// <summary>Version 5: the same id for the same name in the same namespace, everywhere.</summary>
    /// <param name="space">The namespace.</param>
    /// <param name="name">The name, hashed as UTF-8.</param>
    public static Guid FromName(Guid space, string name)
    {
        var length = Encoding.UTF8.GetByteCount(name);
        Span<byte> bytes = length <= 240 ? stackalloc byte[16 + length] : new byte[16 + length];
        space.TryWriteBytes(bytes, bigEndian: true, out _);
        Encoding.UTF8.GetBytes(name, bytes[16..]);
        Span<byte> hash = stackalloc byte[SHA1.HashSizeInBytes];
        // The standard prescribes this hash; it names things here and protects nothing.
#pragma warning disable CA5350
        SHA1.HashData(bytes, hash);
#pragma warning restore CA5350
        return Marked(hash, 0x50);
    }

    /// <summary>Version 7: ids that grow with time.</summary>
    /// <param name="at">The time, from 1970; milliseconds count.</param>
    /// <param name="chance">Ten random bytes; six of the 80 bits make room for version and variant.</param>
    public static Guid FromTime(DateTimeOffset at, ReadOnlySpan<byte> chance)
    {
        Span<byte> bytes = stackalloc byte[16];
        BinaryPrimitives.WriteInt64BigEndian(bytes, at.ToUnixTimeMilliseconds() << 16);
        chance[..10].CopyTo(bytes[6..]);
        return Marked(bytes, 0x70);
    }

    /// <summary>The time in a version 7 id.</summary>
    public static DateTimeOffset TimeOf(Guid id)
    {
        Span<byte> bytes = stackalloc byte[16];
        id.TryWriteBytes(bytes, bigEndian: true, out _);
        return DateTimeOffset.FromUnixTimeMilliseconds(BinaryPrimitives.ReadInt64BigEndian(bytes) >>> 16);
    }

    private static Guid Marked(Span<byte> bytes, int version)
    {
        bytes[6] = (byte)((bytes[6] & 0x0F) | version);
        bytes[8] = (byte)((bytes[8] & 0x3F) | 0x80);
        return new Guid(bytes[..16], bigEndian: true);
    }
}
