using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Text;
using Tussock.Exchange.Places;
using Tussock.Land;

namespace Tussock.Exchange.Shapefile;

/// <summary>Writes a map as shapefiles, one set for each kind of shape: pastures, lines, points; in WGS 84, texts in UTF-8.</summary>
/// <source>ESRI Shapefile Technical Description, an ESRI white paper, July 1998: file code 9994, lengths in 16-bit words, numbers big-endian in headers of records and little-endian in their contents, outer rings clockwise. dBASE III table layout: from memory, held against a general-purpose reader in the tests.</source>
public static class ShapefileWriter
{
    /// <summary>Text of every .prj: geographic coordinates of WGS 84, as the format's own software writes them.</summary>
    internal const string Wgs84 = "GEOGCS[\"GCS_WGS_1984\",DATUM[\"D_WGS_1984\",SPHEROID[\"WGS_1984\",6378137.0,298.257223563]],PRIMEM[\"Greenwich\",0.0],UNIT[\"Degree\",0.0174532925199433]]";

    /// <summary>Names of the sets.</summary>
    internal static ImmutableArray<string> Sets { get; } = ["pastures", "lines", "points"];

    /// <summary>Kinds of shape by their code in the format.</summary>
    private const int PointCode = 1;
    private const int LineCode = 3;
    private const int PolygonCode = 5;

    /// <summary>The files of a map by name; sets without a shape are left out. <c>README.txt</c> says what the map says about itself.</summary>
    public static ImmutableArray<(string Name, ReadOnlyMemory<byte> Bytes)> Files(MapDocument map)
    {
        var files = ImmutableArray.CreateBuilder<(string, ReadOnlyMemory<byte>)>();
        files.Add(("README.txt", Encoding.UTF8.GetBytes(map.Name + "\n\n" + map.Description + "\n")));
        AddSet(files, Sets[0], PolygonCode, map.Features.Where(f => f.Shape is MapArea));
        AddSet(files, Sets[1], LineCode, map.Features.Where(f => f.Shape is MapLine));
        AddSet(files, Sets[2], PointCode, map.Features.Where(f => f.Shape is MapPoint));
        return files.ToImmutable();
    }

    private static void AddSet(ImmutableArray<(string, ReadOnlyMemory<byte>)>.Builder files, string name, int code, IEnumerable<MapFeature> features)
    {
        var all = features.ToArray();
        if (all.Length == 0) return;
        var records = all.Select(f => Content(f.Shape, code)).ToArray();
        var box = all.SelectMany(f => Points(f.Shape)).ToArray();
        files.Add((name + ".shp", Main(code, records, box)));
        files.Add((name + ".shx", Index(code, records, box)));
        files.Add((name + ".dbf", DbaseTable.Write(all)));
        files.Add((name + ".prj", Encoding.ASCII.GetBytes(Wgs84)));
        files.Add((name + ".cpg", "UTF-8"u8.ToArray()));
    }

    private static byte[] Main(int code, byte[][] records, Position[] box)
    {
        using var file = new MemoryStream();
        file.Write(Header(code, 100 + records.Sum(r => r.Length + 8), box));
        var head = new byte[8];
        for (var i = 0; i < records.Length; i++)
        {
            BinaryPrimitives.WriteInt32BigEndian(head, i + 1);
            BinaryPrimitives.WriteInt32BigEndian(head.AsSpan(4), records[i].Length / 2);
            file.Write(head);
            file.Write(records[i]);
        }

        return file.ToArray();
    }

    private static byte[] Index(int code, byte[][] records, Position[] box)
    {
        using var file = new MemoryStream();
        file.Write(Header(code, 100 + (records.Length * 8), box));
        var entry = new byte[8];
        var at = 50;
        foreach (var record in records)
        {
            BinaryPrimitives.WriteInt32BigEndian(entry, at);
            BinaryPrimitives.WriteInt32BigEndian(entry.AsSpan(4), record.Length / 2);
            file.Write(entry);
            at += 4 + (record.Length / 2);
        }

        return file.ToArray();
    }

    private static byte[] Header(int code, int bytes, Position[] box)
    {
        var header = new byte[100];
        BinaryPrimitives.WriteInt32BigEndian(header, 9994);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(24), bytes / 2);
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(28), 1000);
        BinaryPrimitives.WriteInt32LittleEndian(header.AsSpan(32), code);
        WriteBox(header.AsSpan(36), box);
        return header;
    }

    private static void WriteBox(Span<byte> at, IReadOnlyCollection<Position> points)
    {
        Write(at, points.Min(p => p.Longitude));
        Write(at[8..], points.Min(p => p.Latitude));
        Write(at[16..], points.Max(p => p.Longitude));
        Write(at[24..], points.Max(p => p.Latitude));
    }

    private static byte[] Content(MapShape shape, int code)
    {
        if (shape is MapPoint point)
        {
            var bytes = new byte[20];
            BinaryPrimitives.WriteInt32LittleEndian(bytes, code);
            Write(bytes.AsSpan(4), point.At.Longitude);
            Write(bytes.AsSpan(12), point.At.Latitude);
            return bytes;
        }

        // The format turns rings the other way round than everybody else: outer ones clockwise.
        var parts = shape is MapLine line ? [line.Points] : ((MapArea)shape).Pieces.SelectMany(p => p.Rings).Select(r => ImmutableArray.CreateRange(r.Reverse())).ToArray();
        var content = new byte[44 + (parts.Length * 4) + (parts.Sum(p => p.Length) * 16)];
        BinaryPrimitives.WriteInt32LittleEndian(content, code);
        WriteBox(content.AsSpan(4), [.. Points(shape)]);
        BinaryPrimitives.WriteInt32LittleEndian(content.AsSpan(36), parts.Length);
        BinaryPrimitives.WriteInt32LittleEndian(content.AsSpan(40), parts.Sum(p => p.Length));
        var (start, at) = (0, 44 + (parts.Length * 4));
        for (var i = 0; i < parts.Length; i++)
        {
            BinaryPrimitives.WriteInt32LittleEndian(content.AsSpan(44 + (i * 4)), start);
            start += parts[i].Length;
            foreach (var corner in parts[i])
            {
                Write(content.AsSpan(at), corner.Longitude);
                Write(content.AsSpan(at + 8), corner.Latitude);
                at += 16;
            }
        }

        return content;
    }

    private static IEnumerable<Position> Points(MapShape shape) => shape switch
    {
        MapPoint point => [point.At],
        MapLine line => line.Points,
        MapArea area => area.Pieces.SelectMany(p => p.Rings).SelectMany(r => r),
        _ => [],
    };

    private static void Write(Span<byte> at, double number) => BinaryPrimitives.WriteDoubleLittleEndian(at, number);
}
