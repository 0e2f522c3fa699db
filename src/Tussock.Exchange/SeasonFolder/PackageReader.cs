using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Unicode;
using Tussock.Exchange.Reading;
using Tussock.Records;

namespace Tussock.Exchange.SeasonFolder;

/// <summary>One file that a description lists.</summary>
/// <param name="Path">Path inside the folder, with forward slashes.</param>
/// <param name="Place">Where it stands in the description, for example <c>resources[3].path</c>.</param>
internal readonly record struct ListedFile(string Path, string Place);

/// <summary>Reads <c>datapackage.json</c>: strict JSON, bounded, and its list of files.</summary>
internal static class PackageReader
{
    private const int MostDepth = 28;

    /// <summary>Reads the bytes of a description; null when they are none.</summary>
    internal static SeasonPackage? Read(ReadOnlyMemory<byte> bytes, FileFindings findings)
    {
        var span = bytes.Span;
        if (span.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE]) || span.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF]))
        {
            findings.Stop("utf16", 1, null);
            return null;
        }

        if (span.StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF])) bytes = bytes[3..];
        if (!Utf8.IsValid(bytes.Span))
        {
            findings.Stop("json_not_utf8", LineOfBadByte(bytes.Span), null);
            return null;
        }

        return IsSound(bytes, findings) ? SeasonPackage.Parse(System.Text.Encoding.UTF8.GetString(bytes.Span)) : null;
    }

    /// <summary>The files that the description lists; those that may not be looked at are refused.</summary>
    internal static ImmutableArray<ListedFile> Files(SeasonPackage package, FileFindings findings)
    {
        var files = ImmutableArray.CreateBuilder<ListedFile>();
        for (var i = 0; i < package.Resources.Length; i++)
        {
            var place = "resources[" + Words.Numbers.Fixed(i + 1, 0) + "]";
            using var resource = JsonDocument.Parse(package.Resources[i]);
            if (PathOf(resource.RootElement) is not { } path) findings.Stop("resource_without_path", null, place);
            else if (FolderPath.Refusal(path) is { } rule) findings.Stop(rule, null, place + ".path", ("path", TableCheck.Shown(path)));
            else if (NameOf(resource.RootElement) is { } name && RecordKind.Named(name) is { } kind && FolderPath.Plain(path) != kind.File) findings.Stop("resource_elsewhere", null, place + ".path", ("name", name), ("file", kind.File), ("path", TableCheck.Shown(path)));
            else files.Add(new ListedFile(FolderPath.Plain(path), place + ".path"));
        }

        return files.ToImmutable();
    }

    /// <summary>The one path of a resource; null when it has none, or several.</summary>
    internal static string? PathOf(JsonElement resource)
    {
        if (resource.ValueKind != JsonValueKind.Object || !resource.TryGetProperty("path", out var path)) return null;
        if (path.ValueKind == JsonValueKind.Array && path.GetArrayLength() == 1) path = path[0];
        return path.ValueKind == JsonValueKind.String ? path.GetString() : null;
    }

    private static string? NameOf(JsonElement resource) =>
        resource.TryGetProperty("name", out var name) && name.ValueKind == JsonValueKind.String ? name.GetString() : null;

    /// <summary>Walks all tokens once, so that whatever is wrong has a line and nothing behind can stumble over it.</summary>
    private static bool IsSound(ReadOnlyMemory<byte> bytes, FileFindings findings)
    {
        try
        {
            var reader = new Utf8JsonReader(bytes.Span, new JsonReaderOptions { MaxDepth = 64 });
            while (reader.Read())
            {
                var rule = reader.CurrentDepth > MostDepth ? "json_too_deep" : IsReadable(ref reader) ? null : "json_half_character";
                if (rule is null) continue;
                findings.Stop(rule, LineAt(bytes.Span, reader.TokenStartIndex), null);
                return false;
            }

            using var json = JsonDocument.Parse(bytes, new JsonDocumentOptions { MaxDepth = 64, AllowDuplicateProperties = false });
            return IsShaped(json.RootElement, findings);
        }
        catch (JsonException wrong)
        {
            // The text of the exception is for programmers; what a person needs is the line. Without a line it is a name that stands twice.
            if (wrong.LineNumber is { } line) findings.Stop("not_json", (int)Math.Min(line + 1, int.MaxValue), null);
            else findings.Stop("json_twice", null, null);
            return false;
        }
    }

    private static bool IsReadable(ref Utf8JsonReader reader)
    {
        if (reader.TokenType is not (JsonTokenType.String or JsonTokenType.PropertyName) || !reader.ValueIsEscaped) return true;
        try
        {
            return reader.GetString() is not null;
        }
        catch (InvalidOperationException)
        {
            // An escape such as \ud800 alone: half a character. There is no question to ask beforehand.
            return false;
        }
    }

    private static bool IsShaped(JsonElement root, FileFindings findings)
    {
        if (root.ValueKind != JsonValueKind.Object)
        {
            findings.Stop("json_no_object", 1, null);
            return false;
        }

        var isSeason = !root.TryGetProperty("season", out var season) || season.ValueKind == JsonValueKind.Object;
        var isList = !root.TryGetProperty("resources", out var list) || list.ValueKind == JsonValueKind.Array;
        if (!isSeason) findings.Stop("season_no_object", null, "season");
        if (!isList) findings.Stop("resources_no_list", null, "resources");
        return isSeason && isList;
    }

    private static int LineAt(ReadOnlySpan<byte> bytes, long index) => 1 + bytes[..(int)index].Count((byte)'\n');

    private static int LineOfBadByte(ReadOnlySpan<byte> bytes)
    {
        var line = 1;
        foreach (var range in bytes.Split((byte)'\n'))
        {
            if (!Utf8.IsValid(bytes[range])) return line;
            line++;
        }

        return line;
    }
}
