using System.Buffers;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Tussock.Exchange.FieldLog;

/// <summary>How a phone's file ends.</summary>
public enum FieldLogEnd
{
    /// <summary>With its last line, and the hash is right.</summary>
    Whole,

    /// <summary>Before its last line: the lines that are whole can be taken.</summary>
    CutShort,

    /// <summary>With a hash that is not that of what stands before it: nothing of it may be taken.</summary>
    Damaged,

    /// <summary>It is no phone's file.</summary>
    OtherFile,
}

/// <summary>Reads the file of a phone (<c>field-log/1</c>): a line a change, a line a photo. Opens it as often as it is asked.</summary>
public static class FieldLogReader
{
    private const int LongestLine = 64 << 20;
    private static readonly JsonDocumentOptions Shallow = new() { MaxDepth = 16 };

    /// <summary>Reads the file once through and says how it ends.</summary>
    public static FieldLogEnd Check(string path)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var isFirst = true;
        foreach (var line in Lines(path))
        {
            using var json = Parsed(line);
            if (json is null) return isFirst ? FieldLogEnd.OtherFile : FieldLogEnd.Damaged;
            if (isFirst && Text(json.RootElement, "format") != "field-log/1") return FieldLogEnd.OtherFile;
            isFirst = false;
            if (json.RootElement.TryGetProperty("end", out _)) return Text(json.RootElement, "sha256") == Convert.ToHexStringLower(hash.GetHashAndReset()) ? FieldLogEnd.Whole : FieldLogEnd.Damaged;
            hash.AppendData(line);
            hash.AppendData("\n"u8);
        }

        return isFirst ? FieldLogEnd.OtherFile : FieldLogEnd.CutShort;
    }

    /// <summary>The whole lines between the first and the last, parsed; whoever gets one closes it.</summary>
    public static IEnumerable<JsonDocument> Entries(string path)
    {
        foreach (var line in Lines(path).Skip(1))
        {
            if (Parsed(line) is not { } json) yield break;
            if (json.RootElement.TryGetProperty("end", out _))
            {
                json.Dispose();
                yield break;
            }

            yield return json;
        }
    }

    /// <summary>The photo that a line holds; null when it holds none, or not the bytes that its hash names.</summary>
    public static (string Sha256, byte[] Bytes)? Media(JsonElement entry)
    {
        if (Text(entry, "media") is not { Length: 64 } hash || !entry.TryGetProperty("base64", out var text) || text.ValueKind != JsonValueKind.String || !text.TryGetBytesFromBase64(out var bytes)) return null;
        return Convert.ToHexStringLower(SHA256.HashData(bytes)) == hash ? (hash, bytes) : null;
    }

    /// <summary>Lines that end with a line feed, without it; what stands behind the last one is half a line.</summary>
    private static IEnumerable<byte[]> Lines(string path)
    {
        using var stream = File.OpenRead(path);
        var line = new ArrayBufferWriter<byte>();
        var buffer = new byte[1 << 16];
        int count;
        while ((count = stream.Read(buffer)) > 0)
        {
            var start = 0;
            for (var end = Array.IndexOf(buffer, (byte)'\n', 0, count); end >= 0; end = Array.IndexOf(buffer, (byte)'\n', start, count - start))
            {
                line.Write(buffer.AsSpan(start, end - start));
                yield return line.WrittenSpan.ToArray();
                line.ResetWrittenCount();
                start = end + 1;
            }

            line.Write(buffer.AsSpan(start, count - start));
            if (line.WrittenCount > LongestLine) yield break;
        }

        // The last line of a whole file may lack its line feed.
        if (line.WrittenCount > 0 && Encoding.UTF8.GetString(line.WrittenSpan).TrimEnd().EndsWith('}') && Parsed(line.WrittenSpan.ToArray()) is { } last)
        {
            last.Dispose();
            yield return line.WrittenSpan.ToArray();
        }
    }

    private static JsonDocument? Parsed(byte[] line)
    {
        try
        {
            var json = JsonDocument.Parse(line, Shallow);
            if (json.RootElement.ValueKind == JsonValueKind.Object) return json;
            json.Dispose();
            return null;
        }
        catch (JsonException)
        {
            // Half a line, or something else altogether: the caller says which.
            return null;
        }
    }

    private static string? Text(JsonElement of, string name) => of.TryGetProperty(name, out var text) && text.ValueKind == JsonValueKind.String ? text.GetString() : null;
}
