using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Text;
using Tussock.Exchange.Places;
using Tussock.Exchange.Reading;
using Tussock.Land;

namespace Tussock.Exchange.Shapefile;

/// <summary>Reads shapefiles, alone or in a zip: points, lines and polygons, heights and measures left out. Only geographic coordinates of WGS 84 (and NAD 83, which is within two metres of it).</summary>
/// <source>ESRI Shapefile Technical Description, an ESRI white paper, July 1998.</source>
public static class ShapefileReader
{
    private const int HeaderBytes = 100;

    /// <summary>Reads a set of files.</summary>
    /// <param name="shp">Bytes of the .shp.</param>
    /// <param name="dbf">Bytes of the .dbf; null where there is none.</param>
    /// <param name="prj">Text of the .prj; null where there is none.</param>
    /// <param name="cpg">Text of the .cpg; empty where there is none.</param>
    /// <param name="file">Name of the .shp, for what is told.</param>
    public static MapReading Read(byte[] shp, byte[]? dbf, string? prj, string cpg, string file)
    {
        var findings = new MapFindings(file);
        Projection.Check(prj, findings);
        ReadSet(shp, dbf, cpg, findings);
        return findings.Reading();
    }

    /// <summary>Reads all shapefiles of a zip.</summary>
    public static MapReading ReadPacked(Stream stream, string file)
    {
        var findings = new MapFindings(file);
        if (PackedFiles.Unpack(stream, n => Path.GetExtension(n).ToLowerInvariant() is ".shp" or ".dbf" or ".prj" or ".cpg", findings) is not { } files) return findings.Reading();
        var readings = files.Where(f => f.Key.EndsWith(".shp", StringComparison.OrdinalIgnoreCase)).OrderBy(f => f.Key, StringComparer.Ordinal).Select(set =>
        {
            var stem = set.Key[..^4];
            return Read(set.Value, files.GetValueOrDefault(stem + ".dbf"), files.TryGetValue(stem + ".prj", out var prj) ? Encoding.Latin1.GetString(prj) : null, files.TryGetValue(stem + ".cpg", out var cpg) ? Encoding.Latin1.GetString(cpg) : "", file + "/" + set.Key);
        }).ToArray();
        if (readings.Length == 0) findings.Stop(null, Phrase.Of("maps.nothing_packed", ("ending", ".shp")), Phrase.Of("maps.nothing_packed_todo"));
        return new MapReading([.. readings.SelectMany(r => r.Features)], [.. findings.Reading().Problems, .. readings.SelectMany(r => r.Problems)]);
    }

    private static void ReadSet(byte[] shp, byte[]? dbf, string cpg, MapFindings findings)
    {
        if (shp.Length < HeaderBytes || BinaryPrimitives.ReadInt32BigEndian(shp) != 9994 || BinaryPrimitives.ReadInt32LittleEndian(shp.AsSpan(28)) != 1000)
        {
            findings.Stop(null, Phrase.Of("maps.no_shapefile"), Phrase.Of("maps.no_shapefile_todo"));
            return;
        }

        var values = dbf is null ? null : DbaseTable.Read(dbf, cpg);
        if (dbf is null) findings.Note(null, Phrase.Of("maps.no_table"), Phrase.Of("maps.no_table_todo"));
        else if (values is null) findings.Stop(null, Phrase.Of("maps.bad_table"), Phrase.Of("maps.bad_table_todo"));
        var number = 0;
        for (var at = HeaderBytes; at < shp.Length && !findings.IsFull; number++)
        {
            var from = findings.At(null, "record " + Words.Numbers.Whole(number + 1));
            var words = shp.Length - at < 8 ? -1 : BinaryPrimitives.ReadInt32BigEndian(shp.AsSpan(at + 4));
            if (words < 2 || words > (shp.Length - at - 8) / 2)
            {
                findings.Stop(from, Phrase.Of("maps.cut_off"), Phrase.Of("maps.cut_off_todo"));
                return;
            }

            var row = values is not null && number < values.Count ? values[number] : [];
            if (row is { } fields) ReadRecord(shp.AsSpan(at + 8, words * 2), fields, from, findings);
            at += 8 + (words * 2);
        }
    }

    private static void ReadRecord(ReadOnlySpan<byte> content, ImmutableArray<MapField> fields, Place from, MapFindings findings)
    {
        var name = fields.FirstOrDefault(f => f.Name == "name").Text ?? "";
        var others = fields.RemoveAll(f => f.Name == "name");
        foreach (var shape in Shapes(content, from, findings)) findings.Add(new MapFeature(name, shape, others) { From = from });
    }

    private static IEnumerable<MapShape> Shapes(ReadOnlySpan<byte> content, Place from, MapFindings findings)
    {
        var code = BinaryPrimitives.ReadInt32LittleEndian(content);
        switch (code)
        {
            case 0:
                return [];
            case 1 or 11 or 21 when content.Length >= 20:
                return At(content[4..], from, findings) is { } place ? [new MapPoint(place)] : [];
            case 8 or 18 or 28 when content.Length >= 40 && Points(content, 40, BinaryPrimitives.ReadInt32LittleEndian(content[36..]), from, findings) is { } points:
                return points.Select(p => new MapPoint(p));
            case 3 or 13 or 23 or 5 or 15 or 25 when content.Length >= 44 && Parts(content, from, findings) is { } parts:
                if (code is 3 or 13 or 23) return parts.Where(p => p.Length > 1).Select(p => new MapLine(p));
                return findings.Area(from, [.. parts.Select(p => Rings.Closed(p))]) is { } area ? [area] : [];
            default:
                findings.Stop(from, Phrase.Of("maps.bad_shape", ("code", code)), Phrase.Of("maps.bad_shape_todo"));
                return [];
        }
    }

    private static List<ImmutableArray<Position>>? Parts(ReadOnlySpan<byte> content, Place from, MapFindings findings)
    {
        var count = BinaryPrimitives.ReadInt32LittleEndian(content[36..]);
        var points = BinaryPrimitives.ReadInt32LittleEndian(content[40..]);
        if (count < 0 || count > (content.Length - 44) / 4) return null;
        if (Points(content, 44 + (count * 4), points, from, findings) is not { } all) return null;
        var parts = new List<ImmutableArray<Position>>(count);
        for (var i = 0; i < count; i++)
        {
            var start = BinaryPrimitives.ReadInt32LittleEndian(content[(44 + (i * 4))..]);
            var end = i + 1 < count ? BinaryPrimitives.ReadInt32LittleEndian(content[(48 + (i * 4))..]) : all.Length;
            if (start < 0 || end < start || end > all.Length) return null;
            parts.Add(all[start..end]);
        }

        return parts;
    }

    private static ImmutableArray<Position>? Points(ReadOnlySpan<byte> content, int from, int count, Place at, MapFindings findings)
    {
        if (count < 0 || count > (content.Length - from) / 16) return null;
        var points = ImmutableArray.CreateBuilder<Position>(count);
        for (var i = 0; i < count; i++)
        {
            if (At(content[(from + (i * 16))..], at, findings) is not { } place) return [];
            points.Add(place);
        }

        return points.MoveToImmutable();
    }

    private static Position? At(ReadOnlySpan<byte> pair, Place at, MapFindings findings)
    {
        var longitude = BinaryPrimitives.ReadDoubleLittleEndian(pair);
        var latitude = BinaryPrimitives.ReadDoubleLittleEndian(pair[8..]);
        if (Math.Abs(longitude) <= 180 && Math.Abs(latitude) <= 90) return new Position(latitude, longitude);
        findings.Stop(at, Phrase.Of("maps.no_degrees", ("x", Found(longitude)), ("y", Found(latitude))), Phrase.Of("maps.other_system_todo"));
        return null;
    }

    /// <summary>A number as it was found, short; bytes may say anything, even that there is no number.</summary>
    private static string Found(double number) => double.IsFinite(number) ? number.ToString("G9", System.Globalization.CultureInfo.InvariantCulture) : "?";
}
