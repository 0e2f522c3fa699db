using System.Collections.Immutable;
using System.Text.Json;
using Tussock.Records;

namespace Tussock.Journal;

/// <summary>The description of a season as fields of its record: <c>package.NAME</c> and <c>season.NAME</c> hold JSON, their order and the list of files are fields too.</summary>
internal static class Description
{
    private const string Package = "package.";
    private const string Season = "season.";
    private const string Resources = "resources";

    /// <summary>Fields of an incoming description. A property that is stored but not among them comes as empty: a description is always whole.</summary>
    internal static ImmutableArray<FieldValue> Fields(SeasonPackage package, StoredRecord? stored)
    {
        var fields = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var property in package.Package) fields.TryAdd(Package + property.Name, NameList.Plain(property.Json));
        foreach (var property in package.Season) fields.TryAdd(Season + property.Name, NameList.Plain(property.Json));
        var order = NameList.Text(fields.Keys);
        foreach (var field in stored?.Fields ?? []) if (IsProperty(field.Name)) fields.TryAdd(field.Name, "");
        fields.Add(FieldName.Order, order);
        fields.Add(Resources, Listed(package.Resources, stored?.Text(Resources) ?? ""));
        return [.. fields.Select(f => new FieldValue(f.Key, f.Value))];
    }

    internal static SeasonPackage Read(StoredRecord record)
    {
        var order = NameList.Read(record.Text(FieldName.Order));
        var names = order.Concat(record.Fields.Select(f => f.Name).Where(f => IsProperty(f) && !order.Contains(f))).Where(f => record.Text(f).Length > 0).ToArray();
        ImmutableArray<Records.JsonProperty> Under(string prefix) => [.. names.Where(n => n.StartsWith(prefix, StringComparison.Ordinal)).Select(n => new Records.JsonProperty(n[prefix.Length..], record.Text(n)))];
        return new SeasonPackage(Under(Package), Under(Season), NameList.ReadValues(record.Text(Resources)));
    }

    private static bool IsProperty(string field) => field.StartsWith(Package, StringComparison.Ordinal) || field.StartsWith(Season, StringComparison.Ordinal);

    /// <summary>The list of files. A writer may add the tables that a description leaves out: that alone is no new list.</summary>
    private static string Listed(ImmutableArray<string> incoming, string stored)
    {
        var values = NameList.Values(incoming);
        if (stored.Length == 0) return values;
        var before = NameList.ReadValues(stored);
        var added = incoming.Select(NameList.Plain).Where(r => !before.Contains(r)).ToArray();
        return added.Length + before.Length == incoming.Length && added.All(IsTable) ? stored : values;
    }

    private static bool IsTable(string resource)
    {
        using var json = JsonDocument.Parse(resource);
        return json.RootElement.ValueKind == JsonValueKind.Object && json.RootElement.TryGetProperty("path", out var path)
            && path.ValueKind == JsonValueKind.String && RecordKind.All.Any(k => k.File == path.GetString());
    }
}
