using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Tussock.Exchange.Archive;

/// <summary>Titles and descriptions of tables and columns of an archive: English, like the tokens in its cells, whatever language its README is in.</summary>
internal static class PublishedColumns
{
    private static readonly Lazy<ImmutableDictionary<string, (string Title, string Description)>> Known = new(Read);

    /// <summary>Title and description of a table, or of a column (<c>table.column</c>, else the column alone).</summary>
    internal static (string Title, string Description)? Of(string table, string? column = null) =>
        Known.Value.TryGetValue(column is null ? table + ".csv" : table + "." + column, out var own) || Known.Value.TryGetValue(column ?? "", out own) ? own : null;

    /// <summary>A field with its title and description, and with constraints even where there are none but that.</summary>
    internal static JsonObject Described(string table, JsonObject field)
    {
        var name = (string)field["name"]!;
        var (title, description) = Of(table, name) ?? throw new InvalidOperationException("No description of " + table + "." + name);
        var described = new JsonObject { ["name"] = name, ["title"] = title, ["description"] = description };
        foreach (var (key, value) in field) if (key != "name") described[key] = value!.DeepClone();
        var rules = described["constraints"] as JsonObject ?? [];
        if (!rules.ContainsKey("required")) rules["required"] = false;
        described.Remove("constraints");
        described["constraints"] = rules;
        return described;
    }

    private static ImmutableDictionary<string, (string, string)> Read()
    {
        using var stream = typeof(PublishedColumns).Assembly.GetManifestResourceStream("archive/columns.json")!;
        using var json = JsonDocument.Parse(stream);
        return json.RootElement.EnumerateObject().ToImmutableDictionary(p => p.Name, p => (p.Value[0].GetString()!, p.Value[1].GetString()!), StringComparer.Ordinal);
    }
}
