using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using Tussock.Edges.Tests.Commands;
using Tussock.Edges.Tests.Photos;
using Tussock.Edges.Tests.Scenes;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Cameras;

/// <summary>What is written as a package holds to the standard, hides what it should, and comes back as it was.</summary>
public sealed class PackageExportTests : IDisposable
{
    private static readonly string[] Cells = ["transect", "nest", "culprit", "certainty", "took_eggs", "role", "eggs_taken", "until", "species", "count", "event_at"];

    private readonly SceneFolder scene = new("three-visitors");
    private readonly ScratchFolder scratch = new();

    public PackageExportTests()
    {
        scene.Change("nests.csv", "transect,nest,cover,eggs", "transect,nest,cover,eggs,nest_lat,nest_lon,gps_accuracy_m");
        for (var n = 1; n <= 8; n++) scene.Change("nests.csv", $"1,{n},bunchgrass,3", $"1,{n},bunchgrass,3,27.03{n}4,-98.4931,4");
    }

    public void Dispose()
    {
        scene.Dispose();
        scratch.Dispose();
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_package_is_valid_by_the_standards_own_schemas(bool isExact)
    {
        var package = Written(scene.Folder, isExact);

        var description = JsonNode.Parse(File.ReadAllText(Path.Combine(package, "datapackage.json")))!;
        Assert.Empty(Profile(description));
        foreach (var table in new[] { "deployments", "media", "observations" }) Assert.Empty(Rows(table, Path.Combine(package, table + ".csv")));
        description["project"]!["samplingDesign"] = "as we liked";
        Assert.NotEmpty(Profile(description));
        var path = Path.Combine(package, "observations.csv");
        File.WriteAllText(path, File.ReadAllText(path).Replace(",animal,", ",beast,", StringComparison.Ordinal));
        Assert.NotEmpty(Rows("observations", path));
    }

    [Fact]
    public void Without_exact_it_tells_no_place_no_name_and_no_picture_and_can_not_be_imported()
    {
        var package = Written(scene.Folder, isExact: false);
        var all = string.Concat(Directory.GetFiles(package, "*", SearchOption.AllDirectories).Select(File.ReadAllText));

        for (var n = 1; n <= 8; n++) Assert.DoesNotContain($"27.03{n}4", all, StringComparison.Ordinal);
        Assert.DoesNotContain("98.4931", all, StringComparison.Ordinal);
        Assert.DoesNotContain("1-3", all.Replace("2024-", "", StringComparison.Ordinal).Replace("01-3", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.DoesNotContain("three-visitors", all, StringComparison.Ordinal);
        Assert.DoesNotContain("Two Windmills", all, StringComparison.Ordinal);
        var run = Typed.Run("import", scene.Folder, package);
        Assert.Equal(1, run.Exit);
        Assert.Contains("coarsened", run.Err, StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_typed_comes_back_with_the_same_fates_whatever_the_clocks_said()
    {
        var before = Typed.Results(scene.Folder);
        var package = Written(scene.Folder, isExact: true);
        var bare = Bare();
        Typed.Done("import", bare, package);
        var after = Typed.Results(bare);

        foreach (var nest in Enumerable.Range(1, 8))
        {
            foreach (var key in new[] { "a", "b", "t" }) Assert.Equal(before.Fate("1", nest).Number(key) ?? -1, after.Fate("1", nest).Number(key) ?? -1, 1e-6);
        }

        Assert.Equal(before.At("culprits/nests").GetRawText(), after.At("culprits/nests").GetRawText());
    }

    [Fact]
    public void What_came_as_a_package_goes_out_and_comes_back_cell_by_cell_with_its_pictures()
    {
        using var made = new MadePackage("000-three-visitors");
        made.Put("media/a-0044.jpg", new WrittenPicture { Seen = "coyote" }.Jpeg());
        made.Put("media/a-0070.jpg", new WrittenPicture { Seen = "somebody" }.Jpeg());
        var first = Bare();
        var data = scratch.At("first.db");
        Typed.Done("import", data, first);
        var told = Typed.Done("import", data, made.Folder).Out;
        Assert.Contains("not opened and not taken in: 1", told, StringComparison.Ordinal);
        Assert.Single(Directory.GetFiles(data + ".media"));

        var package = Written(data, isExact: true);
        Assert.Single(Directory.GetFiles(Path.Combine(package, "media")));
        var second = scratch.At("second.db");
        Typed.Done("import", second, first);
        Typed.Done("import", second, package);

        var (mine, theirs) = (Table(data, RecordKind.Cameras), Table(second, RecordKind.Cameras));
        Assert.Equal(theirs.Select(Shown), mine.Select(Shown));
        Assert.Equal(Table(data, RecordKind.Deployments).Select(r => r.Text("from") + r.Text("to") + r.Text("worked_until") + r.Text("clock_offset_min") + r.Text("failed_because") + r.Text("chosen") + r.Text("camera")),
            Table(second, RecordKind.Deployments).Select(r => r.Text("from") + r.Text("to") + r.Text("worked_until") + r.Text("clock_offset_min") + r.Text("failed_because") + r.Text("chosen") + r.Text("camera")));
        Assert.Equal(Table(data, RecordKind.Media).Select(r => r.Text("media") + r.Text("taken_at")).Order(), Table(second, RecordKind.Media).Select(r => r.Text("media") + r.Text("taken_at")).Order());
        Assert.Equal(Typed.Results(data).GetProperty("fates").GetRawText(), Typed.Results(second).GetProperty("fates").GetRawText());
    }

    private static string Shown(Source row) => string.Join('|', Cells.Select(row.Text));

    private string Written(string data, bool isExact)
    {
        var folder = scratch.At("package-" + Guid.NewGuid().ToString("N"));
        Typed.Done(["export", data, folder, "--as", "camera-package", "--at", Typed.At, .. isExact ? ["--exact"] : Array.Empty<string>()]);
        return folder;
    }

    /// <summary>The scene's folder as it was before anybody looked at the cameras.</summary>
    private string Bare()
    {
        var bare = scratch.Copy(scene.Folder, "bare-" + Guid.NewGuid().ToString("N"));
        File.WriteAllText(Path.Combine(bare, "cameras.csv"), "transect,nest,event_at,culprit\n");
        File.WriteAllText(Path.Combine(bare, "deployments.csv"), "transect,nest,camera\n");
        var visits = Path.Combine(bare, "visits.csv");
        File.WriteAllText(visits, File.ReadAllText(visits).Replace("1,8,19.8,intact,3,camera,crew 2\n", "", StringComparison.Ordinal));
        return bare;
    }

    private Source[] Table(string data, RecordKind kind)
    {
        var folder = scratch.At("out-" + Guid.NewGuid().ToString("N"));
        Typed.Done("export", data, folder);
        var table = SeasonFolderReader.Read(folder, TestContext.Current.CancellationToken).Tables!.Table(kind)!;
        return [.. table.Rows.Select(r => new Source(table, r))];
    }

    /// <summary>What the standard's profile finds. Its two addresses elsewhere: Data Package is answered with the profile kept here, GeoJSON with nothing.</summary>
    private static string[] Profile(JsonNode description)
    {
        var text = Checks.Read("camtrap-dp-1.0.2", "camtrap-dp-profile.json").Replace("http://json-schema.org/draft-04/schema#", "https://json-schema.org/draft/2020-12/schema", StringComparison.Ordinal);
        var options = new EvaluationOptions { OutputFormat = OutputFormat.List };
        options.SchemaRegistry.Register(new Uri("https://specs.frictionlessdata.io/schemas/data-package.json"), JsonSchema.FromText(Checks.Read("datapackage-profiles", "1.0/datapackage.json")));
        options.SchemaRegistry.Register(new Uri("http://json.schemastore.org/geojson.json"), JsonSchema.FromText("{}"));
        var result = JsonSchema.FromText(text).Evaluate(description, options);
        return result.IsValid ? [] : ["not valid", .. result.Details.Where(d => d.HasErrors).Select(d => d.InstanceLocation + ": " + string.Join("; ", d.Errors!.Values))];
    }

    /// <summary>What a JSON Schema made of the standard's Table Schema finds in the rows of a table.</summary>
    private static string[] Rows(string table, string path)
    {
        var root = Path.GetDirectoryName(Checks.Tests)!;
        using var schema = JsonDocument.Parse(File.ReadAllText(Path.Combine(root, "src", "Tussock.Exchange", "CameraPackage", "Schemas", table + "-table-schema.json")));
        var properties = new JsonObject();
        var required = new JsonArray();
        var numbers = new HashSet<string>(StringComparer.Ordinal);
        foreach (var field in schema.RootElement.GetProperty("fields").EnumerateArray())
        {
            var (name, type) = (field.GetProperty("name").GetString()!, field.GetProperty("type").GetString()!);
            var rule = new JsonObject { ["type"] = type switch { "integer" or "number" => type, "any" => new JsonArray("string"), _ => "string" } };
            if (type == "datetime") rule["pattern"] = @"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)$";
            if (type == "boolean") rule["enum"] = new JsonArray("true", "false");
            if (type is "integer" or "number") numbers.Add(name);
            if (field.TryGetProperty("constraints", out var constraints))
            {
                foreach (var constraint in new[] { "enum", "pattern", "minimum", "maximum" }) if (constraints.TryGetProperty(constraint, out var value)) rule[constraint] = JsonNode.Parse(value.GetRawText());
                if (constraints.TryGetProperty("required", out var must) && must.GetBoolean()) required.Add(name);
            }

            properties[name] = rule;
        }

        var asJson = JsonSchema.FromText(new JsonObject { ["type"] = "object", ["properties"] = properties, ["required"] = required, ["additionalProperties"] = false }.ToJsonString());
        var lines = File.ReadAllLines(path);
        var header = lines[0].Split(',');
        var wrong = new List<string>();
        foreach (var line in lines.Skip(1))
        {
            var row = new JsonObject();
            var cells = line.Split(',');
            Assert.Equal(header.Length, cells.Length);
            for (var i = 0; i < cells.Length; i++) if (cells[i].Length > 0) row[header[i]] = numbers.Contains(header[i]) ? JsonNode.Parse(cells[i]) : cells[i];
            if (!asJson.Evaluate(row).IsValid) wrong.Add(line);
        }

        return [.. wrong];
    }
}
