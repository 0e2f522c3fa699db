using System.Globalization;
using System.Text.Json.Nodes;
using System.Xml;
using System.Xml.Linq;
using System.Xml.Schema;
using Json.Schema;
using Tussock.Exchange.Reading;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Xunit;

namespace Tussock.Edges.Tests.Archives;

/// <summary>An archive is valid by the standards' own schemas and lists of terms, and its rows by the schemas that it gives itself.</summary>
public sealed class ArchiveValidityTests : IDisposable
{
    private static readonly Dictionary<string, string> Lists = new(StringComparer.Ordinal)
    {
        ["http://rs.tdwg.org/dwc/terms/Event"] = "event", ["http://rs.tdwg.org/dwc/terms/Occurrence"] = "occurrence", ["http://rs.tdwg.org/dwc/terms/MeasurementOrFact"] = "measurement",
    };

    private readonly MadeArchive made = new();

    public ArchiveValidityTests() => made.Holding(MadeArchive.Small(MadeArchive.Invented(2, "home 2025", "2025")), MadeArchive.Invented(1, "home 2026", "2026"));

    public void Dispose() => made.Dispose();

    public static TheoryData<string> Ways => ["--season|all", "--season|all|--exact|--licence|CC-BY-4.0", "--season|home 2026|--licence|our own words"];

    [Theory]
    [MemberData(nameof(Ways))]
    public void The_description_of_the_Darwin_Core_Archive_is_valid_and_its_terms_are_in_the_lists(string how)
    {
        var archive = made.Written(more: how.Split('|'));
        var path = Path.Combine(archive, "meta.xml");

        Assert.Empty(Wrong(path, "http://rs.tdwg.org/dwc/text/", "darwin-core", "tdwg_dwc_text.xsd"));
        Assert.Empty(Terms(archive));
        File.WriteAllText(path, File.ReadAllText(path).Replace("terms/eventDate", "terms/dateOfEvent", StringComparison.Ordinal));
        Assert.NotEmpty(Terms(archive));
        File.WriteAllText(path, File.ReadAllText(path).Replace("<core ", "<kernel ", StringComparison.Ordinal).Replace("</core>", "</kernel>", StringComparison.Ordinal));
        Assert.NotEmpty(Wrong(path, "http://rs.tdwg.org/dwc/text/", "darwin-core", "tdwg_dwc_text.xsd"));
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public void The_metadata_keep_the_order_of_the_Ecological_Metadata_Language(string how)
    {
        var path = Path.Combine(made.Written(more: how.Split('|')), "eml.xml");

        Assert.Empty(Wrong(path, "https://eml.ecoinformatics.org/eml-2.2.0", "eml-2.2", "eml-as-used.xsd"));
        File.WriteAllText(path, File.ReadAllText(path).Replace("<contact>", "<pubPlace>here</pubPlace><contact>", StringComparison.Ordinal));
        Assert.NotEmpty(Wrong(path, "https://eml.ecoinformatics.org/eml-2.2.0", "eml-2.2", "eml-as-used.xsd"));
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public void The_description_is_a_Data_Package_2_whose_every_column_is_explained(string how)
    {
        var package = Package(made.Written(more: how.Split('|')));

        Assert.Empty(Profile(package));
        Assert.Equal("https://datapackage.org/profiles/2.0/datapackage.json", (string?)package["$schema"]);
        foreach (var resource in package["resources"]!.AsArray())
        {
            Assert.Equal("table", (string?)resource!["type"]);
            Assert.False(string.IsNullOrWhiteSpace((string?)resource["title"]) || string.IsNullOrWhiteSpace((string?)resource["description"]));
            foreach (var field in resource["schema"]!["fields"]!.AsArray()) Assert.False(string.IsNullOrWhiteSpace((string?)field!["title"]) || string.IsNullOrWhiteSpace((string?)field["description"]) || field["constraints"]?["required"] is null, field.ToJsonString());
        }

        package["resources"]![0]!["schema"]!["fields"]![0]!["type"] = "beast";
        Assert.NotEmpty(Profile(package));
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public void Every_row_holds_to_the_schemas_that_the_archive_gives(string how)
    {
        var archive = made.Written(more: how.Split('|'));

        Assert.Empty(Rows(archive));
        var path = Path.Combine(archive, "tables", "visits.csv");
        File.WriteAllText(path, File.ReadAllText(path).Replace(",intact,", ",well,", StringComparison.Ordinal));
        Assert.NotEmpty(Rows(archive));
    }

    [Theory]
    [MemberData(nameof(Ways))]
    public void Events_hang_together_and_no_nest_is_an_occurrence_of_a_bird(string how)
    {
        var archive = made.Written(more: how.Split('|'));
        var (events, occurrences, facts) = (Table(archive, "event.csv"), Table(archive, "occurrence.csv"), Table(archive, "measurement.csv"));
        var type = events.ToDictionary(e => e["eventID"], e => e["eventType"], StringComparer.Ordinal);

        foreach (var one in events) Assert.Equal(one["eventType"] switch { "season" => null, "transect" => "season", _ => "transect" }, one["parentEventID"].Length == 0 ? null : type[one["parentEventID"]]);
        Assert.All(occurrences, o => Assert.Equal("camera", type[o["eventID"]]));
        Assert.All(facts, f => Assert.True(type.ContainsKey(f["eventID"])));
        Assert.All(occurrences, o => Assert.Equal(("MachineObservation", "present"), (o["basisOfRecord"], o["occurrenceStatus"])));
        Assert.DoesNotContain(occurrences, o => o["scientificName"].Contains("Colinus", StringComparison.Ordinal) || o["vernacularName"] is "person" or "unknown" or "");
        Assert.Equal(events.Count(e => e["eventType"] == "visit"), facts.Count(f => f["measurementType"] == "finding"));
        Assert.All(events.Where(e => e["eventDate"].Length > 0), e => Assert.All(e["eventDate"].Split('/'), d => Assert.True(DateOnly.TryParseExact(d, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _))));
        Assert.All(events.Where(e => e["eventType"] == "visit"), e => Assert.Matches("^1$", e["sampleSizeValue"]));
        Assert.True(occurrences.Length > 20, "few animals");
    }

    [Fact]
    public void A_licence_is_said_everywhere_or_said_to_be_missing()
    {
        var (with, without) = (made.Written("with", "--season", "all", "--licence", "cc-by-4.0"), made.Written("without", "--season", "all"));

        Assert.Equal("CC-BY-4.0", (string?)Package(with)["licenses"]![0]!["name"]);
        Assert.All(Table(with, "event.csv"), e => Assert.Equal("https://creativecommons.org/licenses/by/4.0/", e["license"]));
        foreach (var file in new[] { "README.md", "eml.xml" })
        {
            Assert.Contains("Attribution 4.0", File.ReadAllText(Path.Combine(with, file)), StringComparison.Ordinal);
            Assert.Contains("No licence was chosen", File.ReadAllText(Path.Combine(without, file)), StringComparison.Ordinal);
        }

        Assert.Null(Package(without)["licenses"]);
        Assert.Equal(2, Commands.Typed.Run("export", made.Home, made.At("x.gpx"), "--as", "gpx", "--licence", "CC0-1.0").Exit);
    }

    private static JsonNode Package(string archive) => JsonNode.Parse(File.ReadAllText(Path.Combine(archive, "datapackage.json")))!;

    private static Dictionary<string, string>[] Table(string archive, string file)
    {
        using var stream = File.OpenRead(Path.Combine(archive, file));
        var problems = new List<Problem>();
        var read = TableReader.Cells(stream, _ => true, new FileFindings(file, 10, problems), CsvLimits.Usual, TestContext.Current.CancellationToken)!.Value;
        Assert.Empty(problems);
        return [.. read.Rows.Select(r => read.Columns.Zip(r.Cells).ToDictionary(c => c.First, c => c.Second, StringComparer.Ordinal))];
    }

    private static string[] Wrong(string path, string space, string source, string schema)
    {
        var wrong = new List<string>();
        var schemas = new XmlSchemaSet { XmlResolver = null };
        using (var text = new StringReader(Checks.Read(source, schema))) using (var xsd = XmlReader.Create(text)) schemas.Add(space, xsd);
        var document = XDocument.Load(path);
        if (document.Root!.Name.NamespaceName != space) wrong.Add("namespace");
        document.Validate(schemas, (_, e) => wrong.Add(e.Message));
        return [.. wrong];
    }

    /// <summary>What of the columns is no term of its row type, stands twice, is missing though required, or is called otherwise in the file.</summary>
    private static string[] Terms(string archive)
    {
        XNamespace space = "http://rs.tdwg.org/dwc/text/";
        var wrong = new List<string>();
        foreach (var part in XDocument.Load(Path.Combine(archive, "meta.xml")).Root!.Elements())
        {
            var list = Checks.Read("darwin-core", Lists[(string)part.Attribute("rowType")!] + "-terms.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(l => l.Split(',')).ToDictionary(l => l[0], l => (Type: l[1], IsRequired: l[2] == "true"), StringComparer.Ordinal);
            var file = part.Descendants(space + "location").Single().Value;
            var header = File.ReadLines(Path.Combine(archive, file)).First().Split(',');
            var fields = part.Elements(space + "field").Select(f => ((int)f.Attribute("index")!, (string)f.Attribute("term")!)).ToArray();
            wrong.AddRange(fields.Where(f => !list.ContainsKey(f.Item2) || header[f.Item1] != f.Item2[(f.Item2.LastIndexOf('/') + 1)..]).Select(f => f.Item2));
            wrong.AddRange(list.Where(t => t.Value.IsRequired && fields.All(f => f.Item2 != t.Key)).Select(t => t.Key));
            if (fields.Select(f => f.Item2).Distinct().Count() != fields.Length || fields.Length + (part.Name.LocalName == "core" ? 0 : 1) != header.Length) wrong.Add(file);
            var rows = Table(archive, file);
            foreach (var (index, term) in fields.Where(f => list.TryGetValue(f.Item2, out var t) && t.Type is "integer" or "decimal")) wrong.AddRange(rows.Select(r => r[header[index]]).Where(c => c.Length > 0 && !decimal.TryParse(c, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out _)).Select(c => term + ": " + c));
        }

        return [.. wrong];
    }

    private static string[] Profile(JsonNode description)
    {
        var result = JsonSchema.FromText(Checks.Read("datapackage-profiles", "2.0/datapackage.json")).Evaluate(description, new EvaluationOptions { OutputFormat = OutputFormat.List });
        return result.IsValid ? [] : ["not valid", .. result.Details.Where(d => d.HasErrors).Select(d => d.InstanceLocation + ": " + string.Join("; ", d.Errors!.Values))];
    }

    /// <summary>What the Table Schemas find in the rows: types, constraints, keys, and references to other tables.</summary>
    private static string[] Rows(string archive)
    {
        var wrong = new List<string>();
        var resources = Package(archive)["resources"]!.AsArray().ToDictionary(r => (string)r!["name"]!, r => (Schema: r!["schema"]!, Rows: Table(archive, (string)r["path"]!)), StringComparer.Ordinal);
        foreach (var (name, (schema, rows)) in resources)
        {
            var properties = new JsonObject();
            var required = new JsonArray();
            var numbers = new HashSet<string>(StringComparer.Ordinal);
            foreach (var field in schema["fields"]!.AsArray())
            {
                var (column, type) = ((string)field!["name"]!, (string)field["type"]!);
                var rule = new JsonObject { ["type"] = type is "integer" or "number" ? type : "string" };
                if (type is "integer" or "number") numbers.Add(column);
                if (type == "date") rule["pattern"] = @"^\d{4}-\d\d-\d\d$";
                if (type == "boolean") rule["enum"] = new JsonArray([.. field["trueValues"]!.AsArray().Concat(field["falseValues"]!.AsArray()).Select(v => v!.DeepClone())]);
                foreach (var (constraint, value) in field["constraints"]!.AsObject()) if (constraint is "enum" or "pattern" or "minimum" or "maximum") rule[constraint] = value!.DeepClone();
                if ((bool)field["constraints"]!["required"]!) required.Add(column);
                if (field["constraints"]!["unique"] is not null && rows.Select(r => r[column]).Distinct(StringComparer.Ordinal).Count() != rows.Length) wrong.Add(name + "." + column + " is not unique");
                properties[column] = rule;
            }

            var asJson = JsonSchema.FromText(new JsonObject { ["type"] = "object", ["properties"] = properties, ["required"] = required, ["additionalProperties"] = false }.ToJsonString());
            foreach (var row in rows)
            {
                var json = new JsonObject();
                foreach (var (column, cell) in row) if (cell.Length > 0) json[column] = numbers.Contains(column) ? JsonNode.Parse(cell) : cell;
                if (!asJson.Evaluate(json).IsValid) wrong.Add(name + ": " + json.ToJsonString());
            }

            if (schema["primaryKey"]?.AsArray().Select(c => (string)c!).ToArray() is { } key && rows.Select(r => string.Join('\t', key.Select(c => r[c]))).Distinct(StringComparer.Ordinal).Count() != rows.Length) wrong.Add(name + ": key");
            foreach (var foreign in schema["foreignKeys"]?.AsArray() ?? [])
            {
                var (from, to) = (foreign!["fields"]!.AsArray().Select(c => (string)c!).ToArray(), foreign["reference"]!["fields"]!.AsArray().Select(c => (string)c!).ToArray());
                var there = resources[(string)foreign["reference"]!["resource"]!].Rows.Select(r => string.Join('\t', to.Select(c => r[c]))).ToHashSet(StringComparer.Ordinal);
                wrong.AddRange(rows.Select(r => string.Join('\t', from.Select(c => r[c]))).Where(k => !there.Contains(k)).Take(5).Select(k => name + ": " + k));
            }
        }

        return [.. wrong];
    }
}
