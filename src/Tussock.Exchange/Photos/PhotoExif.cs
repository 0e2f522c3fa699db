using System.Buffers.Binary;
using System.Globalization;
using System.Text;
using Tussock.Land;

namespace Tussock.Exchange.Photos;

/// <summary>What a picture is by its first bytes.</summary>
public enum PhotoKind
{
    /// <summary>None that is taken in.</summary>
    Other,

    /// <summary>JPEG.</summary>
    Jpeg,

    /// <summary>PNG.</summary>
    Png,

    /// <summary>HEIF, as newer phones write it.</summary>
    Heif,
}

/// <summary>Time and place that a camera wrote into a picture.</summary>
/// <remarks>
/// Exif 2.32 (CIPA DC-008-2019): JPEG keeps it in APP1 (4.5.4), PNG in the chunk eXIf (PNG third edition, 11.3.4.4); in HEIF it is looked for by its sign ("Exif", two zero
/// bytes, a TIFF head). Whatever can't be read counts as not written. Reads nothing outside the bytes, whatever they say.
/// </remarks>
/// <param name="TakenAt">DateTimeOriginal, as the camera's clock showed it.</param>
/// <param name="Offset">OffsetTimeOriginal: that clock against UTC; null where the camera did not say.</param>
/// <param name="At">The place.</param>
/// <param name="AccuracyM">GPSHPositioningError, metres.</param>
public sealed record PhotoExif(DateTime? TakenAt, TimeSpan? Offset, Position? At, double? AccuracyM)
{
    private const int ExifPointer = 0x8769, GpsPointer = 0x8825, DateTimeOriginal = 0x9003, OffsetTimeOriginal = 0x9011;
    private const int LatitudeRef = 1, Latitude = 2, LongitudeRef = 3, Longitude = 4, PositioningError = 31;
    private const int Ascii = 2, Short = 3, Long = 4, Rational = 5;
    private static readonly byte[] Sign = [.. "Exif\0\0"u8];

    /// <summary>Nothing written.</summary>
    public static PhotoExif None { get; } = new(null, null, null, null);

    /// <summary>What a file is.</summary>
    public static PhotoKind KindOf(ReadOnlySpan<byte> file)
    {
        if (file.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF])) return PhotoKind.Jpeg;
        if (file.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A])) return PhotoKind.Png;
        if (file.Length < 12 || !file[4..8].SequenceEqual("ftyp"u8)) return PhotoKind.Other;
        return Encoding.Latin1.GetString(file[8..12]) is "heic" or "heix" or "heim" or "heis" or "mif1" or "msf1" or "avif" ? PhotoKind.Heif : PhotoKind.Other;
    }

    /// <summary>Reads a picture's time and place.</summary>
    public static PhotoExif Read(ReadOnlySpan<byte> file)
    {
        var tiff = KindOf(file) switch
        {
            PhotoKind.Jpeg => InJpeg(file),
            PhotoKind.Png => InPng(file),
            PhotoKind.Heif => InHeif(file),
            _ => default,
        };
        return tiff.Length < 8 ? None : OfTiff(tiff);
    }

    private static ReadOnlySpan<byte> InJpeg(ReadOnlySpan<byte> file)
    {
        var at = 2;
        while (at + 4 <= file.Length && file[at] == 0xFF)
        {
            var marker = file[at + 1];
            if (marker == 0xFF) { at++; continue; }
            if (marker is 0xDA or 0xD9) break;
            if (marker is 0x01 or (>= 0xD0 and <= 0xD8)) { at += 2; continue; }
            var length = BinaryPrimitives.ReadUInt16BigEndian(file[(at + 2)..]);
            if (length < 2 || at + 2 + length > file.Length) break;
            var segment = file.Slice(at + 4, length - 2);
            if (marker == 0xE1 && segment.StartsWith(Sign)) return segment[Sign.Length..];
            at += 2 + length;
        }

        return default;
    }

    private static ReadOnlySpan<byte> InPng(ReadOnlySpan<byte> file)
    {
        var at = 8;
        while (at + 12 <= file.Length)
        {
            var length = BinaryPrimitives.ReadUInt32BigEndian(file[at..]);
            if (length > file.Length - at - 12) break;
            var chunk = file.Slice(at + 8, (int)length);
            if (file.Slice(at + 4, 4).SequenceEqual("eXIf"u8)) return chunk.StartsWith(Sign) ? chunk[Sign.Length..] : chunk;
            at += 12 + (int)length;
        }

        return default;
    }

    private static ReadOnlySpan<byte> InHeif(ReadOnlySpan<byte> file)
    {
        for (var at = file.IndexOf(Sign); at >= 0;)
        {
            var tiff = file[(at + Sign.Length)..];
            if (tiff.StartsWith("II*\0"u8) || tiff.StartsWith("MM\0*"u8)) return tiff;
            var next = tiff.IndexOf(Sign);
            at = next < 0 ? -1 : at + Sign.Length + next;
        }

        return default;
    }

    private static PhotoExif OfTiff(ReadOnlySpan<byte> tiff)
    {
        var isLittle = tiff.StartsWith("II*\0"u8);
        if (!isLittle && !tiff.StartsWith("MM\0*"u8)) return None;
        var first = U32(tiff, 4, isLittle) ?? 0;
        DateTime? taken = null;
        TimeSpan? offset = null;
        if (Pointer(tiff, first, ExifPointer, isLittle) is { } exif)
        {
            if (Text(tiff, exif, DateTimeOriginal, isLittle) is { } text && DateTime.TryParseExact(text, "yyyy:MM:dd HH:mm:ss", CultureInfo.InvariantCulture, DateTimeStyles.None, out var at) && at.Year >= 1990) taken = at;
            if (Text(tiff, exif, OffsetTimeOriginal, isLittle) is { Length: 6 } clock && clock[0] is '+' or '-' && TimeSpan.TryParseExact(clock[1..], @"hh\:mm", CultureInfo.InvariantCulture, out var span) && span.TotalHours <= 14) offset = clock[0] == '-' ? -span : span;
        }

        if (Pointer(tiff, first, GpsPointer, isLittle) is not { } gps) return new PhotoExif(taken, offset, null, null);
        var north = Degrees(tiff, gps, Latitude, LatitudeRef, 'N', 'S', 90, isLittle);
        var east = Degrees(tiff, gps, Longitude, LongitudeRef, 'E', 'W', 180, isLittle);
        // Cameras without a fix write 0, 0: a place in the sea.
        Position? place = north is { } n && east is { } e && (n != 0 || e != 0) ? new Position(n, e) : null;
        return new PhotoExif(taken, offset, place, place is null ? null : Rationals(tiff, gps, PositioningError, 1, isLittle)?[0]);
    }

    private static double? Degrees(ReadOnlySpan<byte> tiff, uint directory, int tag, int side, char plus, char minus, double most, bool isLittle)
    {
        if (Rationals(tiff, directory, tag, 3, isLittle) is not { } parts || Text(tiff, directory, side, isLittle) is not { Length: 1 } letter) return null;
        var degrees = parts[0] + (parts[1] / 60) + (parts[2] / 3600);
        if (!(degrees >= 0 && degrees <= most)) return null;
        return letter[0] == plus ? degrees : letter[0] == minus ? -degrees : null;
    }

    private static uint? Pointer(ReadOnlySpan<byte> tiff, uint directory, int tag, bool isLittle) =>
        Entry(tiff, directory, tag, isLittle) is { Type: Long } entry ? U32(tiff, entry.Value, isLittle) : null;

    private static string? Text(ReadOnlySpan<byte> tiff, uint directory, int tag, bool isLittle)
    {
        if (Entry(tiff, directory, tag, isLittle) is not { Type: Ascii, Count: > 0 and < 100 } entry) return null;
        long? at = entry.Count <= 4 ? entry.Value : U32(tiff, entry.Value, isLittle);
        return at is { } from && from + entry.Count <= tiff.Length ? Encoding.Latin1.GetString(tiff.Slice((int)from, (int)entry.Count)).TrimEnd('\0', ' ') : null;
    }

    private static double[]? Rationals(ReadOnlySpan<byte> tiff, uint directory, int tag, int count, bool isLittle)
    {
        if (Entry(tiff, directory, tag, isLittle) is not { Type: Rational } entry || entry.Count != count || U32(tiff, entry.Value, isLittle) is not { } at) return null;
        var values = new double[count];
        for (var i = 0; i < count; i++)
        {
            if (U32(tiff, at + (8L * i), isLittle) is not { } over || U32(tiff, at + (8L * i) + 4, isLittle) is not { } under || under == 0) return null;
            values[i] = (double)over / under;
        }

        return values;
    }

    /// <summary>An entry of a directory: twelve bytes, tag, type, count, and the value or where it stands (TIFF 6.0, section 2).</summary>
    private static (int Type, uint Count, long Value)? Entry(ReadOnlySpan<byte> tiff, uint directory, int tag, bool isLittle)
    {
        if (U16(tiff, directory, isLittle) is not { } count) return null;
        for (var i = 0; i < count; i++)
        {
            var at = directory + 2L + (12L * i);
            if (at + 12 > tiff.Length) return null;
            if (U16(tiff, at, isLittle) != tag) continue;
            var type = U16(tiff, at + 2, isLittle)!.Value;
            return type is Ascii or Short or Long or Rational ? (type, U32(tiff, at + 4, isLittle)!.Value, at + 8) : null;
        }

        return null;
    }

    private static int? U16(ReadOnlySpan<byte> tiff, long at, bool isLittle) => at < 0 || at + 2 > tiff.Length ? null
        : isLittle ? BinaryPrimitives.ReadUInt16LittleEndian(tiff[(int)at..]) : BinaryPrimitives.ReadUInt16BigEndian(tiff[(int)at..]);

    private static uint? U32(ReadOnlySpan<byte> tiff, long at, bool isLittle) => at < 0 || at + 4 > tiff.Length ? null
        : isLittle ? BinaryPrimitives.ReadUInt32LittleEndian(tiff[(int)at..]) : BinaryPrimitives.ReadUInt32BigEndian(tiff[(int)at..]);
}
