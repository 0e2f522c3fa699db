using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Exchange.Reading;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;

namespace Tussock.Exchange.CameraPackage;

/// <summary>A table that a package lists, and how its files are written.</summary>
/// <param name="Name">deployments, media or observations.</param>
/// <param name="Paths">Its files, inside the package.</param>
/// <param name="Separator">What stands between cells.</param>
/// <param name="Quote">What opens and closes a cell.</param>
/// <param name="Encoding">Encoding as named; empty for UTF-8.</param>
/// <param name="IsPacked">Whether the description says that it is packed with gzip.</param>
/// <param name="Empty">Texts that mean an empty cell.</param>
internal sealed record ListedTable(string Name, ImmutableArray<string> Paths, byte Separator, byte Quote, string Encoding, bool IsPacked, ImmutableArray<string> Empty);

/// <summary>What the description of a package says: its tables, its name, the names of animals.</summary>
/// <param name="Name">Name under which what it brings is known when it comes again.</param>
/// <param name="Tables">Its tables by name.</param>
/// <param name="OtherNames">Scientific name to other names of the animal.</param>
internal sealed record PackageDescription(string Name, ImmutableDictionary<string, ListedTable> Tables, ImmutableDictionary<string, ImmutableArray<string>> OtherNames)
{
    private static readonly ImmutableArray<string> UsualEmpty = ["", "NA", "NaN", "nan"];
    private static readonly string[] Ranks = ["genus", "family", "order", "class"];

    /// <summary>Reads a description; what is wrong with it is told. Nothing is fetched from anywhere.</summary>
    /// <param name="bytes">The JSON.</param>
    /// <param name="fallback">Name where the description has none.</param>
    /// <param name="json">Finds faults of the JSON itself.</param>
    /// <param name="findings">Finds faults of the package.</param>
    internal static PackageDescription? Read(byte[] bytes, string fallback, FileFindings json, FileFindings findings)
    {
        if (PackageReader.Read(bytes, json) is null) return null;
        using var document = JsonDocument.Parse(bytes.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]) ? bytes.AsMemory(3) : bytes);
        var root = document.RootElement;
        if (Version(Text(root, "profile")) is { } version && version != "1.0" && !version.StartsWith("1.0.", StringComparison.Ordinal)) findings.Stop("other_version", null, "profile", ("found", TableCheck.Shown(version)));
        if (Text(root, CameraPackageWriter.Coarsened) == "yes") findings.Stop("coarse", null, CameraPackageWriter.Coarsened);
        var tables = ImmutableDictionary.CreateBuilder<string, ListedTable>(StringComparer.Ordinal);
        var listed = root.TryGetProperty("resources", out var resources) && resources.ValueKind == JsonValueKind.Array ? resources.EnumerateArray().ToArray() : [];
        for (var i = 0; i < listed.Length; i++)
        {
            if (Text(listed[i], "name") is not ("deployments" or "media" or "observations")) continue;
            if (Table(listed[i], "resources[" + Words.Numbers.Whole(i + 1) + "]", findings) is { } table && !tables.TryAdd(table.Name, table)) findings.Stop("table_twice", null, "resources", ("name", table.Name));
        }

        var names = new[] { Text(root, "name"), Text(root, "id"), Text(root, "title"), fallback };
        return new PackageDescription(names.First(n => n.Length > 0), tables.ToImmutable(), Names(root));
    }

    private static ListedTable? Table(JsonElement resource, string at, FileFindings findings)
    {
        var name = Text(resource, "name");
        var paths = Paths(resource);
        if (paths.IsEmpty) findings.Stop("no_path", null, at, ("name", name));
        var isGood = !paths.IsEmpty;
        foreach (var path in paths)
        {
            if (FolderPath.Refusal(path) is not { } rule) continue;
            isGood = false;
            findings.Stop(rule == "path_url" ? "table_url" : "path_refused", null, at + ".path", ("path", TableCheck.Shown(path)));
        }

        var dialect = resource.TryGetProperty("dialect", out var d) && d.ValueKind == JsonValueKind.Object ? d : default;
        if (dialect.ValueKind == JsonValueKind.Object && dialect.TryGetProperty("header", out var header) && header.ValueKind == JsonValueKind.False)
        {
            isGood = false;
            findings.Stop("no_header", null, at + ".dialect", ("name", name));
        }

        var (separator, quote) = (Sign(dialect, "delimiter", ','), Sign(dialect, "quoteChar", '"'));
        if (separator is null || quote is null) findings.Stop("odd_dialect", null, at + ".dialect", ("name", name));
        if (!isGood || separator is null || quote is null) return null;
        var packed = Text(resource, "compression") is "gz" or "gzip";
        return new ListedTable(name, [.. paths.Select(FolderPath.Plain)], separator.Value, quote.Value, Text(resource, "encoding"), packed, Empty(resource));
    }

    private static ImmutableArray<string> Paths(JsonElement resource)
    {
        if (!resource.TryGetProperty("path", out var path)) return [];
        if (path.ValueKind == JsonValueKind.String) return [path.GetString()!];
        return path.ValueKind == JsonValueKind.Array && path.EnumerateArray().All(p => p.ValueKind == JsonValueKind.String) ? [.. path.EnumerateArray().Select(p => p.GetString()!)] : [];
    }

    private static byte? Sign(JsonElement dialect, string name, char usual)
    {
        if (dialect.ValueKind != JsonValueKind.Object || !dialect.TryGetProperty(name, out var sign)) return (byte)usual;
        return sign.ValueKind == JsonValueKind.String && sign.GetString() is [var one] && one is > '\0' and < (char)128 and not ('\r' or '\n') ? (byte)one : null;
    }

    private static ImmutableArray<string> Empty(JsonElement resource) =>
        resource.TryGetProperty("schema", out var schema) && schema.ValueKind == JsonValueKind.Object && schema.TryGetProperty("missingValues", out var missing) && missing.ValueKind == JsonValueKind.Array
            ? [.. missing.EnumerateArray().Where(m => m.ValueKind == JsonValueKind.String).Select(m => m.GetString()!), ""] : UsualEmpty;

    private static ImmutableDictionary<string, ImmutableArray<string>> Names(JsonElement root)
    {
        var names = ImmutableDictionary.CreateBuilder<string, ImmutableArray<string>>(StringComparer.OrdinalIgnoreCase);
        if (!root.TryGetProperty("taxonomic", out var taxa) || taxa.ValueKind != JsonValueKind.Array) return names.ToImmutable();
        foreach (var taxon in taxa.EnumerateArray().Where(t => t.ValueKind == JsonValueKind.Object))
        {
            var others = Ranks.Select(r => Text(taxon, r)).Where(t => t.Length > 0);
            if (taxon.TryGetProperty("vernacularNames", out var vernacular) && vernacular.ValueKind == JsonValueKind.Object)
                others = vernacular.EnumerateObject().OrderBy(v => v.Name != "eng").Where(v => v.Value.ValueKind == JsonValueKind.String).Select(v => v.Value.GetString()!).Concat(others);
            if (Text(taxon, "scientificName") is { Length: > 0 } name) names[name] = [.. others];
        }

        return names.ToImmutable();
    }

    /// <summary>The version in the address of the profile; null where none stands in it.</summary>
    private static string? Version(string profile)
    {
        const string Mark = "camtrap-dp/";
        var at = profile.IndexOf(Mark, StringComparison.Ordinal);
        if (at < 0) return null;
        var rest = profile[(at + Mark.Length)..];
        var version = rest.Split('/')[0];
        return version.Length > 0 && char.IsAsciiDigit(version[0]) ? version : null;
    }

    private static string Text(JsonElement e, string name) => e.ValueKind == JsonValueKind.Object && e.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString()! : "";
}
