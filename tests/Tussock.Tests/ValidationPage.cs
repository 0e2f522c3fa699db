using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using Tussock.Results;
using Tussock.Tests.HouseRules;
using Xunit;

namespace Tussock.Tests;

/// <summary>
/// Makes <c>docs/validation.md</c>: what was compared, with what, how many digits agree.
/// Run with TUSSOCK_WRITE_DOCS=1 it writes the page, otherwise it compares.
/// </summary>
public class ValidationPage
{
    /// <summary>More digits than this are not told: the reference itself ends there, and machines differ in the last ones.</summary>
    private const int MostDigits = 8;

    private static readonly string[] Seasons = ["all_survive48", "separation120", "strong600", "tiny20", "typical144"];

    private readonly SortedDictionary<string, (int Values, double Worst)> compared = new(StringComparer.Ordinal);

    [Fact]
    public void The_page_of_validation_is_what_the_checks_say()
    {
        foreach (var set in Seasons) Compare(set);
        var page = Page();
        if (Environment.GetEnvironmentVariable("TUSSOCK_WRITE_DOCS") == "1") File.WriteAllText(Path.Combine(Checkout.Root, "docs", "validation.md"), page);
        Assert.Equal(page, Checkout.Read("docs/validation.md").ReplaceLineEndings("\n"));
    }

    private string Page()
    {
        var page = new StringBuilder("# What was compared with what\n\nMade by `TUSSOCK_WRITE_DOCS=1` and the test `ValidationPage`; not edited by hand.\n\n## Whole seasons against an independent computation\n\n");
        page.Append(CultureInfo.InvariantCulture, $"The invented seasons {string.Join(", ", Seasons)} of `tests/checks/reference-seasons` through the whole program, against scripts in R there. Digits: relative, the worst of all values; chances and posterior points: absolute.\n\n");
        page.Append("| what | values | digits that agree |\n|---|--:|--:|\n");
        foreach (var (what, (values, worst)) in compared) page.Append(CultureInfo.InvariantCulture, $"| {what} | {values} | {Digits(worst)} |\n");
        page.Append("\n## Every method, its source and its checks\n\nEach check is a folder under `tests/checks` with a `source.md`; tests read the values from there.\n\n| method | source | checks |\n|---|---|---|\n");
        foreach (var member in Documented()) page.Append(CultureInfo.InvariantCulture, $"| {member.Name} | {member.Source} | {member.Checks} |\n");
        page.Append("\n## The folders\n\n| folder | what it is |\n|---|---|\n");
        foreach (var folder in Directory.GetDirectories(Checks.Folder(".")).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal))
        {
            page.Append(CultureInfo.InvariantCulture, $"| {folder} | {File.ReadLines(Path.Combine(Checks.Folder(folder), "source.md")).First(l => l.Length > 0).TrimStart('#', ' ')} |\n");
        }

        return page.ToString();
    }

    private static string Digits(double worst)
    {
        var digits = worst == 0 ? MostDigits : (int)Math.Floor(-Math.Log10(worst));
        return digits >= MostDigits ? Inv(MostDigits) + " or more" : Inv(digits);
    }

    private static string Inv(int n) => n.ToString(CultureInfo.InvariantCulture);

    private static IEnumerable<(string Name, string Source, string Checks)> Documented() =>
        from member in XDocument.Load(Path.Combine(AppContext.BaseDirectory, "Tussock.xml")).Descendants("member")
        where member.Elements("check").Any() && member.Elements("source").Any()
        let name = ((string)member.Attribute("name")!).Split('(')[0][2..].Replace("Tussock.", "", StringComparison.Ordinal)
        orderby name
        group (Said(member.Element("source")!), string.Join(", ", member.Elements("check").Select(c => c.Value))) by name into same
        select (same.Key, same.First().Item1, same.First().Item2);

    private static string Said(XElement source) =>
        string.Join(' ', string.Concat(source.Nodes().Select(n => n is XElement e ? ((string?)e.Attribute("cref") ?? "").Split('.')[^1] : n.ToString(SaveOptions.DisableFormatting).Replace("&amp;", "&", StringComparison.Ordinal)))
            .Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).Replace("|", "/", StringComparison.Ordinal);

    private void Compare(string set)
    {
        var results = SeasonResults.Of(FolderInTests.Season(Path.Combine(Checks.Folder("reference-seasons"), set, "season")), new());
        GroupResults Group(GroupLevel level, string name) => results.Groups.Single(g => g.Level == level && (level == GroupLevel.Season || g.Name == name));
        GroupResults OfClass(string name) => name == "all" ? Group(GroupLevel.Season, "") : Group(GroupLevel.Cover, name);
        IEnumerable<(GroupResults Group, JsonElement Value)> Extra(string block)
        {
            var value = ReferenceSeason.Block(set, "extra.json", block);
            yield return (Group(GroupLevel.Season, ""), value.GetProperty("season"));
            foreach (var (name, level) in new[] { ("pasture", GroupLevel.Pasture), ("cover", GroupLevel.Cover) })
            {
                if (value.TryGetProperty(name, out var groups) && groups.ValueKind == JsonValueKind.Object) foreach (var g in groups.EnumerateObject()) yield return (Group(level, g.Name), g.Value);
            }
        }

        foreach (var g in ReferenceSeason.Block(set, "expected.json", "apparent_survival").EnumerateObject().Where(g => g.Value.ValueKind == JsonValueKind.Object && g.Value.TryGetProperty("wilson", out _)))
        {
            Relative("counted share", OfClass(g.Name).Day28.Value, g.Value, "estimate");
            if (g.Value.TryGetProperty("cluster_logit_t", out var limits) && limits.ValueKind == JsonValueKind.Array && limits[0].ValueKind == JsonValueKind.Number) Limits("counted share, limits", OfClass(g.Name).Day28, limits);
        }

        foreach (var g in ReferenceSeason.Block(set, "expected.json", "daily_survival").EnumerateObject().Where(g => g.Value.ValueKind == JsonValueKind.Object && g.Value.TryGetProperty("profile_dsr", out _)))
        {
            Relative("daily survival", OfClass(g.Name).DailySurvival.Value, g.Value, "dsr");
            Limits("daily survival, profile limits", OfClass(g.Name).DailySurvival, g.Value.GetProperty("profile_dsr"));
        }

        foreach (var (group, value) in Extra("two_piece"))
        {
            Relative("two-piece survival", group.TwoPieceDay28.Value, value, "S28");
            Relative("two-piece survival, clustered limits", group.TwoPieceDay28.Low, value, "S28_low");
            Relative("two-piece survival, clustered limits", group.TwoPieceDay28.High, value, "S28_high");
        }

        foreach (var (group, value) in Extra("posterior"))
        {
            Absolute("chance of the benchmark", group.ChanceAtLeastBenchmark.HasValue ? group.ChanceAtLeastBenchmark.Value : null, value, "chance");
            if (!value.TryGetProperty("points", out var points) || points.ValueKind != JsonValueKind.Object) continue;
            Absolute("posterior points", group.Day28Posterior.Low, points, "p2.5");
            Absolute("posterior points", group.Day28Posterior.Value, points, "p50");
            Absolute("posterior points", group.Day28Posterior.High, points, "p97.5");
        }

        foreach (var (group, value) in Extra("density"))
        {
            if (results.Densities.FirstOrDefault(d => d.Cover is null && d.Level == group.Level && d.Name == group.Name)?.Density is not { } density) continue;
            Relative("clump density", density.PerAcre.Value, value, "per_acre");
            Relative("clump density, limits", density.PerAcre.Low, value, "low");
            Relative("clump density, limits", density.PerAcre.High, value, "high");
        }

        foreach (var check in new[] { 14, 28 })
        {
            var runs = results.Runs.Single(r => r.Level == GroupLevel.Season && r.Check == check).Runs;
            if (!runs.HasValue) continue;
            var value = ReferenceSeason.Block(set, "extra.json", "runs").GetProperty("check" + Inv(check)).GetProperty("season");
            Relative("runs along the line, p", runs.Value.P, value, "p");
            Relative("runs along the line, expected", runs.Value.Expected, value, "expected");
        }

        var hand = ReferenceSeason.Block(set, "expected.json", "mantel_haenszel").GetProperty("hand");
        if (results.CoverComparisons.FirstOrDefault(c => c.Pasture is null) is not { } cover) return;
        Relative("survival and odds ratio of cover classes", cover.Comparison.SurvivalRatio.Value, hand, "RR");
        Relative("survival and odds ratio of cover classes", cover.Comparison.OddsRatio.Value, hand, "OR");
    }

    private void Limits(string what, Estimate estimate, JsonElement limits)
    {
        foreach (var (found, expected) in new[] { (estimate.Low, limits[0]), (estimate.High, limits[1]) })
        {
            if (expected.ValueKind == JsonValueKind.Number) Note(what, found, expected.GetDouble(), Math.Abs(expected.GetDouble()));
        }
    }

    private void Relative(string what, double? found, JsonElement block, string name)
    {
        if (Number(block, name) is { } expected) Note(what, found, expected, Math.Abs(expected));
    }

    private void Absolute(string what, double? found, JsonElement block, string name)
    {
        if (Number(block, name) is { } expected) Note(what, found, expected, 1);
    }

    private static double? Number(JsonElement block, string name) => block.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.Number ? value.GetDouble() : null;

    private void Note(string what, double? found, double expected, double scale)
    {
        Assert.True(found is not null, what + " is missing, expected " + expected.ToString("R", CultureInfo.InvariantCulture));
        var difference = Math.Abs(found.Value - expected) / (scale == 0 ? 1 : scale);
        var (values, worst) = compared.GetValueOrDefault(what);
        compared[what] = (values + 1, Math.Max(worst, difference));
    }
}
