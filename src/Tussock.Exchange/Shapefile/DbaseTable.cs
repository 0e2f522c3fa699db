using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Text;
using Tussock.Exchange.Places;
using Tussock.Land;

namespace Tussock.Exchange.Shapefile;

/// <summary>The table of values beside the shapes (.dbf): written as texts in UTF-8, read with what encoding it names.</summary>
/// <remarks>A text has room for 254 bytes; a longer one is cut at the end of a letter. Numbers are written as texts too: none is rounded to the width of a column.</remarks>
/// <source>dBASE III table layout (32-byte header, 32 bytes a column, 0x0D, records led by a deletion mark, 0x1A): from memory, held against a general-purpose reader in the tests.</source>
internal static class DbaseTable
{
    private const int Widest = 254;
    private const int MostColumns = 255;

    /// <summary>Writes the table of some things, one record each, in their order.</summary>
    internal static byte[] Write(IReadOnlyList<MapFeature> features)
    {
        var names = features.SelectMany(f => f.Fields.Select(p => p.Name)).Distinct(StringComparer.Ordinal).Prepend("name").Distinct(StringComparer.Ordinal).DistinctBy(FieldNames.Short).Take(MostColumns).ToArray();
        var cells = features.Select(f => names.Select(n => Fitting(n == "name" ? f.Name : f.Field(n))).ToArray()).ToArray();
        var widths = names.Select((_, i) => Math.Max(1, cells.Max(c => c[i].Length))).ToArray();
        var recordBytes = 1 + widths.Sum();
        var headerBytes = 32 + (32 * names.Length) + 1;
        using var file = new MemoryStream();
        var header = new byte[headerBytes];
        header[0] = 3;
        // The date of the last change must be one; it isn't used for anything, and the clock is left out so that the same season gives the same bytes.
        (header[1], header[2], header[3]) = (126, 1, 1);
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(4), features.Count);
        BinaryPrimitives.WriteUInt16LittleEndian(header.AsSpan(8), (ushort)headerBytes);
        BinaryPrimitives.WriteUInt16LittleEndian(header.AsSpan(10), (ushort)recordBytes);
        for (var i = 0; i < names.Length; i++)
        {
            var column = header.AsSpan(32 + (32 * i), 32);
            Encoding.ASCII.GetBytes(FieldNames.Short(names[i]), column);
            column[11] = (byte)'C';
            column[16] = (byte)widths[i];
        }

        header[^1] = 0x0D;
        file.Write(header);
        foreach (var record in cells)
        {
            file.WriteByte((byte)' ');
            for (var i = 0; i < names.Length; i++)
            {
                file.Write(record[i]);
                for (var k = record[i].Length; k < widths[i]; k++) file.WriteByte((byte)' ');
            }
        }

        file.WriteByte(0x1A);
        return file.ToArray();
    }

    /// <summary>Reads the values of each record, deleted ones as null; null when the bytes are no table.</summary>
    /// <param name="file">The bytes.</param>
    /// <param name="page">Text of the .cpg beside it; empty where there is none.</param>
    internal static List<ImmutableArray<MapField>?>? Read(ReadOnlySpan<byte> file, string page)
    {
        if (file.Length < 33) return null;
        var count = BinaryPrimitives.ReadUInt32LittleEndian(file[4..]);
        int headerBytes = BinaryPrimitives.ReadUInt16LittleEndian(file[8..]);
        int recordBytes = BinaryPrimitives.ReadUInt16LittleEndian(file[10..]);
        if (headerBytes < 33 || headerBytes > file.Length || recordBytes < 1) return null;
        var columns = Columns(file[..headerBytes], recordBytes);
        if (columns is null) return null;
        var encoding = TextPage.Of(page, file[29]);
        var records = new List<ImmutableArray<MapField>?>();
        for (var at = headerBytes; records.Count < count && at + recordBytes <= file.Length; at += recordBytes)
        {
            var record = file.Slice(at, recordBytes);
            records.Add(record[0] == (byte)'*' ? null : Values(record, columns, encoding));
        }

        return records;
    }

    private static List<(string Name, int From, int Width)>? Columns(ReadOnlySpan<byte> header, int recordBytes)
    {
        var columns = new List<(string, int, int)>();
        var from = 1;
        for (var at = 32; at + 32 <= header.Length && header[at] != 0x0D; at += 32)
        {
            var name = header.Slice(at, 11);
            var end = name.IndexOf((byte)0);
            int width = header[at + 16];
            if (from + width > recordBytes) return null;
            columns.Add((FieldNames.Long(Encoding.ASCII.GetString(end < 0 ? name : name[..end]).Trim()), from, width));
            from += width;
        }

        return columns;
    }

    private static ImmutableArray<MapField> Values(ReadOnlySpan<byte> record, List<(string Name, int From, int Width)> columns, TextPage page)
    {
        var values = ImmutableArray.CreateBuilder<MapField>();
        foreach (var (name, from, width) in columns)
        {
            var text = page.Text(record.Slice(from, width)).Trim(' ', '\0');
            if (text.Length > 0 && name.Length > 0) values.Add(new MapField(name, text));
        }

        return values.ToImmutable();
    }

    /// <summary>The bytes of a text as far as a column has room, cut at the end of a letter; line ends become blanks.</summary>
    private static byte[] Fitting(string text)
    {
        var bytes = Encoding.UTF8.GetBytes(text.ReplaceLineEndings(" ").Replace('\0', ' '));
        if (bytes.Length <= Widest) return bytes;
        var end = Widest;
        while ((bytes[end] & 0xC0) == 0x80) end--;
        return bytes[..end];
    }
}
