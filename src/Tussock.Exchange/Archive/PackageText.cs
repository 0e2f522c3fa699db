using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Tussock.Exchange.Archive;

/// <summary>The description of an archive as a Data Package, version 2.0.</summary>
internal static class PackageText
{
    /// <summary>Its file.</summary>
    internal const string File = "datapackage.json";

    /// <summary>Name in it that says that it is an archive of this program, and how its places are.</summary>
    internal const string Archive = "simulated_nests_archive";

    /// <summary>Name in it under which the rules of the seasons stand.</summary>
    internal const string Seasons = "seasons";

    private const string Profiles = "https://datapackage.org/profiles/2.0/";
    private static readonly JsonSerializerOptions Readable = new() { WriteIndented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The bytes of it.</summary>
    internal static byte[] Of(string id, string title, string description, bool isExact, Licence? licence, DateTimeOffset at, IEnumerable<ArchivedSeason> seasons, IEnumerable<ArchiveTable> tables)
    {
        var package = new JsonObject
        {
            ["$schema"] = Profiles + "datapackage.json",
            ["name"] = "simulated-nests-" + id[..8],
            ["id"] = id,
            ["title"] = title,
            ["description"] = description,
            ["created"] = at.ToUniversalTime().ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture),
        };
        if (licence is not null) package["licenses"] = new JsonArray(licence.InPackage());
        package[Archive] = new JsonObject { ["version"] = 1, [ArchivedSettings.Coarsened] = isExact ? "no" : "yes" };
        package[Seasons] = new JsonArray([.. seasons.Select(s => new JsonObject(s.Settings.Select(p => KeyValuePair.Create(p.Name, JsonNode.Parse(p.Json)))))]);
        package["resources"] = new JsonArray([.. tables.Select(Resource)]);
        return Encoding.UTF8.GetBytes(package.ToJsonString(Readable) + "\n");
    }

    private static JsonObject Resource(ArchiveTable table)
    {
        var (title, description) = PublishedColumns.Of(Stem(table))!.Value;
        var schema = new JsonObject
        {
            ["$schema"] = Profiles + "tableschema.json",
            ["fields"] = new JsonArray([.. table.Fields.Select(f => PublishedColumns.Described(Stem(table), f))]),
            ["missingValues"] = new JsonArray(""),
        };
        if (!table.Key.IsEmpty) schema["primaryKey"] = Names(table.Key);
        if (!table.Refers.IsEmpty) schema["foreignKeys"] = new JsonArray([.. table.Refers.Select(r => new JsonObject { ["fields"] = Names(r.Columns), ["reference"] = new JsonObject { ["resource"] = r.Table, ["fields"] = Names(r.There) } })]);
        return new JsonObject
        {
            ["name"] = table.Name,
            ["path"] = table.Path,
            ["type"] = "table",
            ["title"] = title,
            ["description"] = description,
            ["format"] = "csv",
            ["mediatype"] = "text/csv",
            ["encoding"] = "utf-8",
            ["schema"] = schema,
        };
    }

    private static string Stem(ArchiveTable table) => Path.GetFileNameWithoutExtension(table.Path);

    private static JsonArray Names(ImmutableArray<string> columns) => new([.. columns.Select(c => JsonValue.Create(c))]);
}
