using System.Globalization;
using System.Text;
using System.Text.Json;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary><c>tussock compare</c>: years beside each other, all properties together, and what is kept to itself.</summary>
public sealed class CompareCommandTests : IDisposable
{
    private static readonly string[] Ranches = ["Two Windmills", "Caliche Ranch", "Salt Fork", "Dry Creek", "Long Draw"];
    private readonly ScratchFolder scratch = new();

    public void Dispose() => scratch.Dispose();

    private string Data(int years, int ranches = 5)
    {
        for (var y = 0; y < years; y++) Typed.Done("import", scratch.At("years.db"), Season(2020 + y, ranches));
        return scratch.At("years.db");
    }

    [Fact]
    public void Ten_years_stand_beside_each_other_with_what_must_be_said_first()
    {
        var found = Typed.Json(Typed.Done("compare", Data(10, 1), "--json", "--at", Typed.At).Out);
        Assert.Equal("compare/1", found.Text("contract"));
        var land = found.At("lands").EnumerateArray().First(l => l.Text("property") == "Two Windmills" && l.At("pasture").ValueKind == JsonValueKind.Null);
        Assert.Equal(Enumerable.Range(2020, 10).Select(y => y.ToString(CultureInfo.InvariantCulture)), land.At("years").EnumerateArray().Select(y => y.Text("year")));
        var steps = land.At("differences").EnumerateArray().ToArray();
        Assert.Equal(("2020", "2029"), (steps[^1].Text("from"), steps[^1].Text("to")));
        Assert.Equal(10, steps.Length);
        // 2023 was set out three weeks late: said in front of both comparisons that it enters, and of no other.
        foreach (var step in steps) Assert.Equal("2023" == step.Text("from") || "2023" == step.Text("to"), step.At("before_comparing").EnumerateArray().Any(s => s.GetString()!.Contains("days apart in the year", StringComparison.Ordinal)));
        Assert.All(steps, s => Assert.InRange(s.Number("chance_survival_rose")!.Value, 0, 1));
        Assert.Equal(JsonValueKind.Null, found.At("network").ValueKind);
        Assert.True(land.At("trend").Number("years") is 10);
    }

    [Fact]
    public void A_year_says_the_same_here_as_in_its_own_results()
    {
        var data = Data(3);
        var found = Typed.Json(Typed.Done("compare", data, "--json").Out);
        foreach (var land in found.At("lands").EnumerateArray())
        {
            foreach (var year in land.At("years").EnumerateArray())
            {
                var isWhole = land.At("pasture").ValueKind == JsonValueKind.Null;
                var own = Typed.Results(data, "--season", year.Text("season")!).At("groups").EnumerateArray().First(g => g.Text("level") == (isWhole ? "property" : "pasture") && g.At("property").GetString() == land.Text("property") && (isWhole || g.Text("name") == land.Text("pasture")));
                foreach (var part in (string[])["estimate", "low", "high"]) Assert.Equal(own.Number("survival/day28/" + part)!.Value, year.Number("survival/" + part)!.Value, 1e-12);
            }
        }
    }

    [Fact]
    public void All_properties_together_name_no_property_and_no_place()
    {
        var data = Data(3);
        foreach (var text in (string[])[Typed.Done("compare", data, "--network").Out, Typed.Done("compare", data, "--network", "--json").Out])
        {
            foreach (var name in (string[])[.. Ranches, "East", "West", "L1", "crew 1"]) Assert.DoesNotContain(name, text, StringComparison.Ordinal);
            Assert.Contains("5", text, StringComparison.Ordinal);
        }

        var network = Typed.Json(Typed.Done("compare", data, "--network", "--json").Out).At("network");
        Assert.Equal((5, 3), ((int)network.Number("properties")!.Value, network.At("by_year").GetArrayLength()));
        Assert.InRange(network.Number("all_years/survival/mean/estimate")!.Value, network.Number("all_years/survival/mean/low")!.Value, network.Number("all_years/survival/mean/high")!.Value);
        Assert.True(network.Number("all_years/survival/new_property_low") <= network.Number("all_years/survival/mean/low"));
    }

    [Fact]
    public void A_property_sees_where_it_stands_among_five_and_never_among_four()
    {
        var five = Typed.Done("compare", Data(2), "--property", "Salt Fork").Out;
        Assert.Contains("Salt Fork among the 5 properties", five, StringComparison.Ordinal);
        foreach (var other in Ranches.Where(r => r != "Salt Fork")) Assert.DoesNotContain(other, five, StringComparison.Ordinal);
        using var four = new CompareCommandTests();
        var told = Typed.Done("compare", four.Data(2, 4), "--property", "Salt Fork").Out;
        Assert.Contains("only where there are 5 or more", told, StringComparison.Ordinal);
        Assert.DoesNotContain("Half of them lie", told, StringComparison.Ordinal);
    }

    [Fact]
    public void Pages_to_print_are_written_for_each_pasture_and_none_names_another_property()
    {
        Typed.Done("compare", Data(4), "--out", scratch.At("paper"), "--at", Typed.At);
        var pages = Directory.GetFiles(scratch.At("paper"), "*.html").Select(Path.GetFileNameWithoutExtension).Order(StringComparer.Ordinal).ToArray();
        Assert.Equal(16, pages.Length);
        var page = File.ReadAllText(Path.Combine(scratch.At("paper"), "years-two-windmills.html"));
        Assert.Contains("2023", page, StringComparison.Ordinal);
        foreach (var other in Ranches.Skip(1)) Assert.DoesNotContain(other, page, StringComparison.Ordinal);
        var network = File.ReadAllText(Path.Combine(scratch.At("paper"), "network.html"));
        foreach (var name in Ranches) Assert.DoesNotContain(name, network, StringComparison.Ordinal);
    }

    [Fact]
    public void The_landowners_file_gets_a_page_of_years_up_to_the_reports_own()
    {
        Typed.Done("report", Data(3, 1), "--season", "summer 2021", "--out", scratch.At("report"), "--at", Typed.At);
        var page = File.ReadAllText(Path.Combine(scratch.At("report"), "landowner-two-windmills.html"));
        Assert.Contains("Year by year: Two Windmills", page, StringComparison.Ordinal);
        Assert.Contains("2020", page, StringComparison.Ordinal);
        Assert.DoesNotContain("2022", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--property Nowhere", "No property is called “Nowhere”")]
    [InlineData("--against 1999", "No season is of the year “1999”")]
    public void What_is_not_there_is_told_with_what_is(string options, string told)
    {
        var refused = Typed.Run(["compare", Data(2, 2), .. options.Split(' ')]);
        Assert.Equal((1, ""), (refused.Exit, refused.Out));
        Assert.Contains(told, refused.Err, StringComparison.Ordinal);
        Assert.Contains(options.StartsWith("--p", StringComparison.Ordinal) ? "Two Windmills" : "2020, 2021", refused.Err, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--network --property Nowhere")]
    [InlineData("--action burn --network")]
    [InlineData("--action burn --out x")]
    public void What_would_name_what_was_not_to_be_named_is_wrong_usage(string options)
    {
        var refused = Typed.Run(["compare", Data(2, 2), .. options.Split(' ')]);
        Assert.Equal((2, ""), (refused.Exit, refused.Out));
    }

    [Fact]
    public void A_season_under_way_is_not_taken_for_a_lost_one()
    {
        Data(1, 2);
        var folder = Season(2021, 2);
        var visits = File.ReadAllLines(Path.Combine(folder, "visits.csv"));
        File.WriteAllLines(Path.Combine(folder, "visits.csv"), visits.Where(v => !v.Contains(",28,", StringComparison.Ordinal)));
        Typed.Done("import", scratch.At("years.db"), folder);
        var found = Typed.Json(Typed.Done("compare", scratch.At("years.db"), "--json").Out);
        foreach (var land in found.At("lands").EnumerateArray())
        {
            var open = land.At("years").EnumerateArray().Last();
            Assert.Contains("not been looked at", open.Text("survival/why"), StringComparison.Ordinal);
            Assert.True(open.Number("survival/estimate") is null or > 0.2);
        }

        Assert.Equal(JsonValueKind.Null, found.At("network/by_year").EnumerateArray().Last().At("survival/mean/estimate").ValueKind);
    }

    [Fact]
    public void A_season_without_a_year_is_not_named_where_nothing_is()
    {
        var folder = Season(2020, 5);
        var package = Path.Combine(folder, "datapackage.json");
        File.WriteAllText(package, File.ReadAllText(package).Replace("\"year\": \"2020\", ", "", StringComparison.Ordinal).Replace("summer 2020", "Salt Fork by the river", StringComparison.Ordinal));
        Typed.Done("import", scratch.At("years.db"), folder);
        foreach (var text in (string[])[Typed.Done("compare", scratch.At("years.db"), "--network").Out, Typed.Done("compare", scratch.At("years.db"), "--network", "--json").Out]) Assert.DoesNotContain("Salt Fork", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_key_stands_in_its_page()
    {
        var text = Typed.Done("compare", Data(4), "--json").Out;
        var page = File.ReadAllText(Path.Combine(Checks.Folder(""), "..", "..", "docs", "compare.md"));
        var keys = new HashSet<string>(StringComparer.Ordinal);
        Collect(Typed.Json(text), keys);
        Assert.All(keys, k => Assert.Contains("`" + k + "`", page, StringComparison.Ordinal));
    }

    private static void Collect(JsonElement element, HashSet<string> keys)
    {
        if (element.ValueKind == JsonValueKind.Array) foreach (var item in element.EnumerateArray()) Collect(item, keys);
        if (element.ValueKind != JsonValueKind.Object) return;
        foreach (var property in element.EnumerateObject())
        {
            keys.Add(property.Name);
            if (property.Name is not ("losses" or "confirmed")) Collect(property.Value, keys);
        }
    }

    /// <summary>An invented season folder: each ranch with two pastures of four lines that keep their names.</summary>
    private string Season(int year, int ranches)
    {
        var chance = Seeded.Of((ulong)year);
        StringBuilder pastures = new("property,pasture\n"), transects = new("property,pasture,transect,line,set_on\n"), nests = new("transect,nest,cover\n"), visits = new("transect,nest,day,finding,observer\n"), belts = new("transect,segment,steps,step_m,arm_span_m,cover,clumps\n");
        for (var r = 0; r < ranches; r++)
        {
            foreach (var pasture in (string[])["East", "West"])
            {
                pastures.Append(CultureInfo.InvariantCulture, $"{Ranches[r]},{pasture}\n");
                for (var l = 1; l <= 4; l++)
                {
                    var line = $"L{r}{pasture[0]}{l}";
                    transects.Append(CultureInfo.InvariantCulture, $"{Ranches[r]},{pasture},{line},{line},{year}-05-{(year == 2023 ? 27 : 4 + chance.NextBelow(3)):00}\n");
                    belts.Append(CultureInfo.InvariantCulture, $"{line},1,50,0.75,1.8,grass,{3 + chance.NextBelow(6)}\n");
                    var rate = 0.02 * Math.Exp(0.5 * chance.NextNormal());
                    for (var n = 1; n <= 8; n++)
                    {
                        nests.Append(CultureInfo.InvariantCulture, $"{line},{n},{(n % 2 == 0 ? "cactus" : "grass")}\n");
                        var lost = -Math.Log(1 - chance.NextUniform()) / rate;
                        foreach (var day in (int[])[14, 28])
                        {
                            visits.Append(CultureInfo.InvariantCulture, $"{line},{n},{day},{(lost > day ? "intact" : "depredated")},crew 1\n");
                            if (lost <= day) break;
                        }
                    }
                }
            }
        }

        var folder = scratch.At("s" + year.ToString(CultureInfo.InvariantCulture));
        Directory.CreateDirectory(folder);
        foreach (var (name, text) in ((string, StringBuilder)[])[("pastures", pastures), ("transects", transects), ("nests", nests), ("visits", visits), ("belts", belts)]) File.WriteAllText(Path.Combine(folder, name + ".csv"), text.ToString());
        File.WriteAllText(Path.Combine(folder, "datapackage.json"), $$"""
            { "name": "invented", "season": { "name": "summer {{year}}", "year": "{{year}}", "trial_days": 28, "check_days": [14, 28],
              "cover_classes": [ { "name": "grass", "role": "grass" }, { "name": "cactus", "role": "other" } ], "benchmarks": { "survival": 0.5, "clumps_per_acre": 300 } }, "resources": [] }
            """);
        return folder;
    }
}
