using System.Buffers.Binary;

namespace Tussock.Journal;

/// <summary>Ids of one moment (version 7) that grow one by one: random at the start, then counted, as the standard's fixed-length counter does.</summary>
/// <remarks>Not to be shared between threads. Holds 2³¹ ids of one moment.</remarks>
/// <source>Davis, Peabody and Leach 2024, RFC 9562, section 6.2, method 1.</source>
/// <check>rfc-9562</check>
public sealed class TimeIds
{
    private readonly DateTimeOffset at;
    private readonly byte[] chance;
    private readonly uint start;
    private uint count;

    /// <summary>Ids of a moment.</summary>
    /// <param name="at">The moment; milliseconds count.</param>
    /// <param name="chance">Ten random bytes.</param>
    /// <param name="last">The last id that the same device made, if it made one: new ids are greater even when its clock stood still or was set back.</param>
    public TimeIds(DateTimeOffset at, ReadOnlySpan<byte> chance, Guid? last = null)
    {
        var earliest = last is { } id ? Uuid.TimeOf(id).AddMilliseconds(1) : at;
        this.at = at > earliest ? at : earliest;
        this.chance = chance[..10].ToArray();
        // The counter's highest bit begins at zero, which leaves room to count up without running over.
        start = BinaryPrimitives.ReadUInt32BigEndian(chance[6..]) & 0x7FFF_FFFF;
    }

    /// <summary>The next id, greater than all before.</summary>
    public Guid Next()
    {
        Span<byte> bytes = stackalloc byte[10];
        chance.CopyTo(bytes);
        BinaryPrimitives.WriteUInt32BigEndian(bytes[6..], start + count);
        count++;
        return Uuid.FromTime(at, bytes);
    }
}
