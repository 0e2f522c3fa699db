using System.Collections.Frozen;
using System.IO.Compression;
using Microsoft.AspNetCore.Http;
using Tussock.Field;

namespace Tussock.App.Serving;

/// <summary>The phone app's files, packed once; looked up by their exact path, never on the disk.</summary>
internal sealed class FieldPages
{
    private readonly FrozenDictionary<string, (FieldFile File, byte[] Packed)> files = FieldFiles.All.Add(FieldFiles.List)
        .ToFrozenDictionary(f => f.Path, f => (f, Pack(f.Bytes.Span)), StringComparer.Ordinal);

    internal static byte[] Pack(ReadOnlySpan<byte> bytes)
    {
        var packed = new byte[BrotliEncoder.GetMaxCompressedLength(bytes.Length)];
        return BrotliEncoder.TryCompress(bytes, packed, out var length, quality: 9, window: 22) ? packed[..length] : throw new InvalidOperationException("A file of the app could not be packed");
    }

    internal static bool TakesBrotli(HttpRequest request) => request.Headers.AcceptEncoding.ToString().Contains("br", StringComparison.OrdinalIgnoreCase);

    /// <summary>Answers with a file; false when there is none.</summary>
    internal async Task<bool> AnswerAsync(HttpContext context, string path)
    {
        if (!files.TryGetValue(path.Length == 0 ? "index.html" : path, out var found)) return false;
        var etag = "\"" + found.File.Sha256[..32] + "\"";
        var headers = context.Response.Headers;
        headers.CacheControl = "no-cache";
        headers.ETag = etag;
        headers.Vary = "Accept-Encoding";
        if (context.Request.Headers.IfNoneMatch == etag)
        {
            context.Response.StatusCode = StatusCodes.Status304NotModified;
            return true;
        }

        var isPacked = TakesBrotli(context.Request) && found.Packed.Length < found.File.Bytes.Length;
        if (isPacked) headers.ContentEncoding = "br";
        await Answers.BytesAsync(context, StatusCodes.Status200OK, found.File.ContentType, isPacked ? found.Packed : found.File.Bytes);
        return true;
    }
}
