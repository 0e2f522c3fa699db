using System.Globalization;
using Tussock.Records;
using Tussock.Review;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Review;

/// <summary>A clean season of one pasture, two lines of four nests, that tests spoil in one place.</summary>
public sealed class SmallSeason
{
    private const double MetresADegreeNorth = 110_790;
    private const double MetresADegreeEast = 98_870;

    private readonly Dictionary<string, List<Dictionary<string, string>>> rows = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> settings = new(StringComparer.Ordinal)
    {
        ["name"] = "\"two-windmills\"",
        ["year"] = "2024",
        ["time_zone"] = "\"America/Chicago\"",
        ["cover_classes"] = """[{"name":"grass","role":"grass"},{"name":"cactus","role":"other"}]""",
        ["loss_rule"] = "\"any_egg\"",
    };

    private string boundary = """
        {"type":"FeatureCollection","features":[{"type":"Feature","properties":{"property":"Two Windmills","pasture":"East"},
        "geometry":{"type":"Polygon","coordinates":[[[-98.01,27.49],[-97.99,27.49],[-97.99,27.52],[-98.01,27.52],[-98.01,27.49]]]}}]}
        """;

    public SmallSeason()
    {
        Add("pastures.csv", "property=Two Windmills pasture=East");
        for (var line = 1; line <= 2; line++)
        {
            Add("transects.csv", $"property=Two Windmills pasture=East transect=T{line} set_on=2024-05-06 step_m=0.76 steps_between=50");
            for (var nest = 1; nest <= 4; nest++) AddNest(line, nest);
            for (var segment = 1; segment <= 2; segment++) Add("belts.csv", $"transect=T{line} segment={segment} steps=50 step_m=0.76 arm_span_m=1.80 cover=grass clumps={segment + line}");
        }

        foreach (var (day, date) in new[] { (14, "2024-05-20"), (28, "2024-06-03") })
        {
            for (var line = 1; line <= 2; line++)
            {
                for (var nest = 1; nest <= 4; nest++)
                {
                    var isLost = day == 28 && nest == 3;
                    Add("visits.csv", $"transect=T{line} nest={nest} visited_on={date} finding={(isLost ? "depredated" : "intact")} eggs_intact={(isLost ? 0 : 3)} observer=crew {line}");
                    if (isLost) Add("remains.csv", $"transect=T{line} nest={nest} visited_on={date} sign=shell_present value=few pieces");
                }
            }
        }

        Add("cameras.csv", "transect=T1 nest=3 day=20.5 culprit=raccoon took_eggs=yes");
    }

    /// <summary>Sets one cell; the header is line 1, the column is added where it is missing.</summary>
    public SmallSeason With(string file, int line, string column, string value)
    {
        rows[file][line - 2][column] = value;
        return this;
    }

    /// <summary>Sets one cell of every row.</summary>
    public SmallSeason WithAll(string file, string column, string value)
    {
        foreach (var row in rows[file]) row[column] = value;
        return this;
    }

    /// <summary>Sets one property of the season.</summary>
    public SmallSeason WithSetting(string name, string json)
    {
        settings[name] = json;
        return this;
    }

    /// <summary>Replaces the boundaries.</summary>
    public SmallSeason WithBoundary(string geoJson)
    {
        boundary = geoJson;
        return this;
    }

    /// <summary>Adds a row: "column=value column=value"; a value may hold blanks.</summary>
    public SmallSeason Add(string file, string cells)
    {
        var row = new Dictionary<string, string>(StringComparer.Ordinal);
        var last = "";
        foreach (var word in cells.Split(' '))
        {
            var cut = word.IndexOf('=', StringComparison.Ordinal);
            if (cut < 0)
            {
                row[last] += " " + word;
                continue;
            }

            last = word[..cut];
            row[last] = word[(cut + 1)..];
        }

        if (!rows.TryGetValue(file, out var list)) rows.Add(file, list = []);
        list.Add(row);
        return this;
    }

    /// <summary>Takes rows out.</summary>
    public SmallSeason Without(string file, Func<IReadOnlyDictionary<string, string>, bool> which)
    {
        rows[file].RemoveAll(r => which(r));
        return this;
    }

    /// <summary>Puts the rows of every file into another order.</summary>
    public SmallSeason Shuffled(int seed)
    {
        var random = new Random(seed);
        foreach (var list in rows.Values) random.Shuffle(System.Runtime.InteropServices.CollectionsMarshal.AsSpan(list));
        return this;
    }

    /// <summary>Number of rows of a file.</summary>
    public int Rows(string file) => rows[file].Count;

    public Season Read()
    {
        var files = rows.Where(f => f.Value.Count > 0).ToDictionary(f => f.Key, f => Csv(f.Value), StringComparer.Ordinal);
        files["datapackage.json"] = "{\"season\":{" + string.Join(",", settings.Select(s => $"\"{s.Key}\":{s.Value}")) + "}}";
        files["pastures.geojson"] = boundary;
        return FolderInTests.Season(files);
    }

    /// <summary>What the inspection finds; every sentence must be sayable.</summary>
    public IReadOnlyList<Problem> Findings(DateOnly? today = null)
    {
        var found = Inspector.Findings(Read(), today);
        foreach (var problem in found)
        {
            Assert.NotEmpty(Catalogue.English.Say(problem.What));
            Assert.NotEmpty(Catalogue.English.Say(problem.ToDo));
        }

        return found;
    }

    private void AddNest(int line, int nest)
    {
        var flagNorth = 27.5 + (nest * 38 / MetresADegreeNorth) + (line * 0.005);
        var (steps, direction, east, north) = nest switch { 1 => (10, "E", 7.6, 0.0), 2 => (12, "W", -9.12, 0), 3 => (9, "N", 0, 6.84), _ => (14, "S", 0, -10.64) };
        Add("nests.csv", $"transect=T{line} nest={nest} cover={(nest % 2 == 1 ? "grass" : "cactus")} eggs=3 steps={steps} direction={direction} direction_sense=flag_to_nest flag_lat={Text(flagNorth)} flag_lon=-98 nest_lat={Text(flagNorth + (north / MetresADegreeNorth))} nest_lon={Text(-98 + (east / MetresADegreeEast))}");
    }

    private static string Text(double x) => x.ToString("F7", CultureInfo.InvariantCulture);

    private static string Csv(List<Dictionary<string, string>> list)
    {
        var columns = list.SelectMany(r => r.Keys).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray();
        return string.Join("\n", [string.Join(",", columns), .. list.Select(r => string.Join(",", columns.Select(c => r.GetValueOrDefault(c, ""))))]);
    }
}
