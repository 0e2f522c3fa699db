using System.Buffers.Binary;
using System.Globalization;
using System.Text;

namespace Tussock.Edges.Tests.Photos;

/// <summary>A picture as far as its time and place go, byte by byte: Exif 2.32 (CIPA DC-008-2019), 4.5.4 for JPEG, 4.6 for the tags; from memory of the standard.</summary>
internal sealed class WrittenPicture
{
    internal bool IsLittle { get; init; } = true;

    internal string? TakenAt { get; init; } = "2026:05:25 08:35:10";

    internal string? Offset { get; init; } = "-05:00";

    internal (double Latitude, double Longitude)? At { get; init; }

    internal uint? AccuracyM { get; init; }

    /// <summary>Something that makes the content another.</summary>
    internal string Seen { get; init; } = "";

    internal byte[] Jpeg()
    {
        byte[] exif = [.. "Exif\0\0"u8, .. Tiff()];
        return [0xFF, 0xD8, 0xFF, 0xE0, 0, 4, 1, 1, 0xFF, 0xE1, .. Big16(exif.Length + 2), .. exif, 0xFF, 0xDA, .. Encoding.UTF8.GetBytes(Seen), 0xFF, 0xD9];
    }

    internal byte[] Png()
    {
        var tiff = Tiff();
        return [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, 2, .. "tEXt"u8, 1, 2, 0, 0, 0, 0, 0, 0, .. Big16(tiff.Length), .. "eXIf"u8, .. tiff, 0, 0, 0, 0, .. Encoding.UTF8.GetBytes(Seen)];
    }

    internal byte[] Heif() => [0, 0, 0, 16, .. "ftypheic"u8, 0, 0, 0, 0, .. "no Exif\0\0 here"u8, .. "Exif\0\0"u8, .. Tiff(), .. Encoding.UTF8.GetBytes(Seen)];

    private byte[] Tiff()
    {
        var exif = new List<(int Tag, int Type, int Count, byte[] Value)>();
        if (TakenAt is { } taken) exif.Add((0x9003, 2, taken.Length + 1, Ascii(taken)));
        if (Offset is { } offset) exif.Add((0x9011, 2, offset.Length + 1, Ascii(offset)));
        var gps = new List<(int Tag, int Type, int Count, byte[] Value)>();
        if (At is { } at)
        {
            gps.Add((1, 2, 2, Ascii(at.Latitude < 0 ? "S" : "N")));
            gps.Add((2, 5, 3, Sexagesimal(at.Latitude)));
            gps.Add((3, 2, 2, Ascii(at.Longitude < 0 ? "W" : "E")));
            gps.Add((4, 5, 3, Sexagesimal(at.Longitude)));
            if (AccuracyM is { } m) gps.Add((31, 5, 1, [.. U32(m), .. U32(1)]));
        }

        const int Head = 8, First = 2 + (2 * 12) + 4;
        var exifAt = Head + First;
        var exifBytes = Directory(exif, exifAt);
        var gpsAt = exifAt + exifBytes.Length;
        return [.. IsLittle ? "II*\0"u8 : "MM\0*"u8, .. U32(Head), .. Directory([(0x8769, 4, 1, U32((uint)exifAt)), (0x8825, 4, 1, U32((uint)gpsAt))], Head), .. exifBytes, .. Directory(gps, gpsAt)];
    }

    private byte[] Directory(List<(int Tag, int Type, int Count, byte[] Value)> entries, int at)
    {
        var list = new List<byte>(U16(entries.Count));
        var behind = new List<byte>();
        var start = at + 2 + (12 * entries.Count) + 4;
        foreach (var (tag, type, count, value) in entries)
        {
            list.AddRange([.. U16(tag), .. U16(type), .. U32((uint)count)]);
            if (value.Length <= 4) list.AddRange([.. value, .. new byte[4 - value.Length]]);
            else
            {
                list.AddRange(U32((uint)(start + behind.Count)));
                behind.AddRange(value);
            }
        }

        return [.. list, 0, 0, 0, 0, .. behind];
    }

    private byte[] Sexagesimal(double degrees)
    {
        var plus = Math.Abs(degrees);
        var whole = Math.Floor(plus);
        var minutes = Math.Floor((plus - whole) * 60);
        var seconds = (((plus - whole) * 60) - minutes) * 60;
        return [.. U32((uint)whole), .. U32(1), .. U32((uint)minutes), .. U32(1), .. U32((uint)Math.Round(seconds * 10_000)), .. U32(10_000)];
    }

    private static byte[] Ascii(string text) => [.. Encoding.ASCII.GetBytes(text), 0];

    private static byte[] Big16(int value) => [(byte)(value >> 8), (byte)value];

    private byte[] U16(int value)
    {
        var bytes = new byte[2];
        if (IsLittle) BinaryPrimitives.WriteUInt16LittleEndian(bytes, (ushort)value);
        else BinaryPrimitives.WriteUInt16BigEndian(bytes, (ushort)value);
        return bytes;
    }

    private byte[] U32(uint value)
    {
        var bytes = new byte[4];
        if (IsLittle) BinaryPrimitives.WriteUInt32LittleEndian(bytes, value);
        else BinaryPrimitives.WriteUInt32BigEndian(bytes, value);
        return bytes;
    }

    /// <summary>A time as Exif writes it.</summary>
    internal static string Time(DateTime at) => at.ToString("yyyy:MM:dd HH:mm:ss", CultureInfo.InvariantCulture);
}
