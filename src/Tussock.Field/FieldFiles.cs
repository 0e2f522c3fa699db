using System.Buffers;
using System.Collections.Immutable;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Tussock.Field;

/// <summary>One file of the phone app.</summary>
/// <param name="Path">Its path under <c>/field/</c>, with forward slashes.</param>
/// <param name="ContentType">Its media type.</param>
/// <param name="Bytes">What it holds.</param>
/// <param name="Sha256">Hash of the bytes, 64 hexadecimal digits in lower case.</param>
public sealed record FieldFile(string Path, string ContentType, ReadOnlyMemory<byte> Bytes, string Sha256);

/// <summary>The files of the phone app, as they lie inside the program. Made once; may be shared between threads.</summary>
public static class FieldFiles
{
    /// <summary>Path of the list of files, which is made here and is no file of its own.</summary>
    public const string ListPath = "files.json";

    private const string Prefix = "field/";
    private static readonly JsonWriterOptions Indented = new() { Indented = true, NewLine = "\n" };
    private static readonly Lazy<ImmutableArray<FieldFile>> LazyAll = new(Read);
    private static readonly Lazy<FieldFile> LazyList = new(() => File(ListPath, ListBytes()));

    /// <summary>All files by path, ordinal order, without the list.</summary>
    public static ImmutableArray<FieldFile> All => LazyAll.Value;

    /// <summary>The list: <c>{ "version", "files": [ { "path", "sha256", "bytes" } ] }</c>.</summary>
    public static FieldFile List => LazyList.Value;

    /// <summary>The version of the app: it changes exactly when a file does.</summary>
    public static string Version => Hash(Encoding.UTF8.GetBytes(string.Join('\n', All.Select(f => f.Sha256 + " " + f.Path))))[..16];

    private static ImmutableArray<FieldFile> Read()
    {
        var assembly = Assembly.GetExecutingAssembly();
        var names = assembly.GetManifestResourceNames().Where(n => n.StartsWith(Prefix, StringComparison.Ordinal)).Order(StringComparer.Ordinal);
        var files = names.Select(n => File(n[Prefix.Length..], Bytes(assembly, n))).ToArray();
        var texts = files.Where(f => f.Path.EndsWith(".js", StringComparison.Ordinal)).ToDictionary(f => f.Path, f => Encoding.UTF8.GetString(f.Bytes.Span), StringComparer.Ordinal);
        return [.. files.Append(File(JoinedModules.Path, Encoding.UTF8.GetBytes(JoinedModules.Of(texts)))).OrderBy(f => f.Path, StringComparer.Ordinal)];
    }

    private static byte[] Bytes(Assembly assembly, string name)
    {
        using var stream = assembly.GetManifestResourceStream(name)!;
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    private static FieldFile File(string path, byte[] bytes) => new(path, ContentType(path), bytes, Hash(bytes));

    private static string Hash(byte[] bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    private static byte[] ListBytes()
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(buffer, Indented))
        {
            writer.WriteStartObject();
            writer.WriteString("version", Version);
            writer.WriteStartArray("files");
            foreach (var file in All)
            {
                writer.WriteStartObject();
                writer.WriteString("path", file.Path);
                writer.WriteString("sha256", file.Sha256);
                writer.WriteNumber("bytes", file.Bytes.Length);
                writer.WriteEndObject();
            }

            writer.WriteEndArray();
            writer.WriteEndObject();
        }

        return buffer.WrittenSpan.ToArray();
    }

    private static string ContentType(string path) => path[(path.LastIndexOf('.') + 1)..] switch
    {
        "html" => "text/html; charset=utf-8",
        "js" or "mjs" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "json" => "application/json; charset=utf-8",
        "webmanifest" => "application/manifest+json; charset=utf-8",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "woff2" => "font/woff2",
        "txt" => "text/plain; charset=utf-8",
        _ => "application/octet-stream",
    };
}
