using System.Text.Json;
using Tussock.Fates;
using Tussock.Survival;
using Xunit;

namespace Tussock.Tests.Survival;

/// <summary>Against the brute-force integrals of the reference seasons (<c>extra.json</c>, block <c>posterior</c>): season, pastures and cover classes.</summary>
public sealed class BenchmarkChanceChecks
{
    public static TheoryData<string, string> Groups()
    {
        var rows = new TheoryData<string, string>();
        foreach (var folder in Directory.GetDirectories(Checks.Folder("reference-seasons")).Order(StringComparer.Ordinal))
        {
            if (!File.Exists(Path.Combine(folder, "extra.json"))) continue;
            var set = Path.GetFileName(folder);
            foreach (var (path, _) in ReferenceSeason.Groups(set)) rows.Add(set, path);
        }

        return rows;
    }

    [Theory]
    [MemberData(nameof(Groups))]
    public void Chance_and_points_agree_with_brute_force(string set, string path)
    {
        var expected = ReferenceSeason.Block(set, "extra.json", "posterior").At(path);
        var found = BenchmarkChance.From(ReferenceSeason.Groups(set).First(g => g.Path == path).Spans, Number(expected, "phi"), 0.5, Trial.Usual).Value;
        Assert.Equal(Number(expected, "transects"), found.Lines);
        Assert.Equal(Number(expected, "chance"), found.Chance, 2e-6);
        foreach (var (prior, chance) in found.OtherPriors) Assert.Equal(Number(expected.GetProperty("chance_other_priors"), prior), chance, 5e-6);
        Assert.Equal(Number(expected, "mean"), found.Mean, 2e-6);
        Assert.Equal(Number(expected, "mean_tau"), found.MeanSpread, 1e-5);
        Assert.Equal(Number(expected, "mean_logit"), found.MeanLogit, 1e-5);
        Assert.Equal(Number(expected, "sd_logit"), found.SdLogit, 1e-5);
        Assert.Equal(Number(expected.GetProperty("points"), "p2.5"), found.Day28.Low!.Value, 1e-5);
        Assert.Equal(Number(expected.GetProperty("points"), "p50"), found.Day28.Value!.Value, 1e-5);
        Assert.Equal(Number(expected.GetProperty("points"), "p97.5"), found.Day28.High!.Value, 1e-5);
    }

    private static double Number(JsonElement element, string name) => element.GetProperty(name).GetDouble();
}
