using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;
using Tussock.Records;

namespace Tussock.Exchange.SeasonFolder;

/// <summary>The list of files in a description: one resource for each table, with its Table Schema.</summary>
internal static class Resources
{
    /// <summary>The description with a resource for every table: a given resource stays as it is, a missing one is added behind, one whose file is not there goes.</summary>
    /// <param name="tables">The season.</param>
    /// <param name="kept">Paths of other files in the folder.</param>
    internal static SeasonPackage Listed(SeasonTables tables, IReadOnlyCollection<string> kept)
    {
        var written = tables.Tables.Select(t => t.Kind.File).Concat(tables.Texts.Keys).Concat(kept).ToHashSet(StringComparer.Ordinal);
        var list = new List<string>();
        var listed = new HashSet<string>(StringComparer.Ordinal);
        foreach (var resource in tables.Package.Resources)
        {
            using var json = JsonDocument.Parse(resource);
            if (PackageReader.PathOf(json.RootElement) is not { } path || !written.Contains(FolderPath.Plain(path))) continue;
            listed.Add(FolderPath.Plain(path));
            list.Add(resource);
        }

        list.AddRange(tables.Tables.Where(t => !listed.Contains(t.Kind.File)).Select(Resource));
        return tables.Package with { Resources = [.. list] };
    }

    private static string Resource(RecordTable table) => new JsonObject
    {
        ["name"] = table.Kind.Name,
        ["path"] = table.Kind.File,
        ["type"] = "table",
        ["profile"] = "tabular-data-resource",
        ["format"] = "csv",
        ["mediatype"] = "text/csv",
        ["encoding"] = "utf-8",
        ["schema"] = TableSchema.Of(table),
    }.ToJsonString();
}
