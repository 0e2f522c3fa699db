using System.Globalization;
using System.Text.Json;
using Tussock.Cover;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Numerics;
using Tussock.Tests.Models;
using Tussock.Tests.Survival;
using Xunit;

namespace Tussock.Tests.Cover;

public class ParityDensityTests
{
    [Fact]
    public void Missing_belts_roles_or_differences_of_density_are_said()
    {
        var spans = HazardRatioTests.TwoClasses(NestRows.Spans([.. NestRows.Line(0, 4, 4), .. NestRows.Line(1, 4, 4)]), row => row % 2);
        Assert.Equal("parity.no_belts", ParityDensity.Of(spans, [false, true], new Dictionary<string, double>()).PerAcre.Why!.Key);
        Assert.Equal("parity.one_role", ParityDensity.Of(spans, [true, true], new Dictionary<string, double> { ["T0"] = 100, ["T1"] = 200 }).PerAcre.Why!.Key);
        Assert.Equal("parity.one_density", ParityDensity.Of(spans, [false, true], new Dictionary<string, double> { ["T0"] = 100, ["T1"] = 100 }).PerAcre.Why!.Key);
    }

    [Fact]
    public void Where_grass_does_not_gain_with_density_there_is_no_parity()
    {
        var parity = ParityLand.Of(1, slope: -0.9).Parity();
        Assert.Null(parity.PerAcre.Value);
        Assert.Equal("parity.not_rising", parity.PerAcre.Why!.Key);
        Assert.NotNull(parity.Fit);
    }

    [Fact]
    public void A_strong_crossing_is_found_between_limits()
    {
        var parity = ParityLand.Of(2, slope: 0.9).Parity();
        Assert.Equal(ParityShape.Bounded, parity.Shape);
        Assert.InRange(300, parity.PerAcre.Low!.Value, parity.PerAcre.High!.Value);
        Assert.InRange(parity.PerAcre.Value!.Value, parity.PerAcre.Low!.Value, parity.PerAcre.High!.Value);
        Assert.InRange(parity.SurvivalRatioAt(60, 28).Low!.Value, 1.05, 9);
        Assert.InRange(parity.SurvivalRatioAt(parity.PerAcre.Value!.Value, 28).Value!.Value, 0.999999, 1.000001);
    }

    [Fact]
    public void Nests_on_lines_without_a_belt_are_counted_and_said()
    {
        var land = ParityLand.Of(2, slope: 0.9);
        land.PerAcre.Remove("T3");
        Assert.Contains(land.Parity().PerAcre.Notes, n => n.Key == "parity.without_belt");
    }
}

public class ParityDensityLaws
{
    [Fact]
    public void Another_unit_of_area_moves_estimate_and_limits_alike()
    {
        var land = ParityLand.Of(3, slope: 0.9);
        var one = land.Parity().PerAcre;
        var other = ParityDensity.Of(land.Nests, [false, true], land.PerAcre.ToDictionary(d => d.Key, d => d.Value * 2.47105381467165)).PerAcre;
        Assert.Equal(one.Value!.Value * 2.47105381467165, other.Value!.Value, 1e-5 * other.Value!.Value);
        Assert.Equal(one.Low!.Value * 2.47105381467165, other.Low!.Value, 1e-4 * other.Low!.Value);
        Assert.Equal(one.High!.Value * 2.47105381467165, other.High!.Value, 1e-4 * other.High!.Value);
    }

    /// <summary>The set is what its definition says, tried density by density with fits of its own.</summary>
    [Theory]
    [InlineData(4, 0.9, -0.2)]
    [InlineData(5, 0.25, -0.9)]
    [InlineData(6, 0.15, -1.2)]
    [InlineData(7, 0.4, 0.0)]
    [InlineData(8, 0.2, -0.6)]
    [InlineData(9, 0.05, 0.0)]
    public void The_set_holds_the_densities_that_fit_and_no_others(ulong seed, double slope, double shift)
    {
        var land = ParityLand.Of(seed, slope, shift, nests: 12);
        var parity = land.Parity();
        if (parity.PerAcre.Value is null) return;
        double? low = parity.PerAcre.Low, high = parity.PerAcre.High;
        if (parity.Shape == ParityShape.TwoRays) (low, high) = (Argument(parity, "low"), Argument(parity, "high"));
        for (var log = -4.0; log <= 14; log += 1.5)
        {
            var density = Math.Exp(log);
            var isIn = parity.Shape switch { ParityShape.Bounded => density >= low && density <= high, ParityShape.TwoRays => density <= low || density >= high, _ => true };
            var fall = 2 * (parity.Fit!.LogLikelihood - land.AlikeAt(log));
            Assert.True(isIn == fall <= 3.841458820694124 || Math.Abs(fall - 3.841458820694124) < 1e-3, $"{parity.Shape} {low} {high} at {density}: {fall}");
        }
    }

    private static double Argument(ParityDensity parity, string name) => Convert.ToDouble(parity.PerAcre.Why!.Arguments.First(a => a.Name == name).Value, CultureInfo.InvariantCulture);
}

public class ParityDensityChecks
{
    [Theory]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    [InlineData("strong600")]
    public void As_plain_integration_in_another_language_says(string set)
    {
        using var json = JsonDocument.Parse(Checks.Read("line-intercept-by-integration", "expected.json"));
        var expected = json.RootElement.GetProperty(set + "_parity");
        var spans = ReferenceSeason.Whole(set);
        var densities = Densities(set);
        var parity = ParityDensity.Of(spans, [false, true], densities);
        var land = new ParityLand(spans, densities);
        Assert.Equal(expected.GetProperty("log_likelihood").GetDouble(), parity.Fit!.LogLikelihood, 3e-4);
        Assert.Equal(expected.GetProperty("b1").GetDouble(), parity.Fit.Effects[1].Coefficient.Value!.Value, 2e-3);
        Assert.Equal(expected.GetProperty("b3").GetDouble(), parity.Fit.Effects[3].Coefficient.Value!.Value, 5e-4);
        var at = expected.GetProperty("at").EnumerateArray().Select(e => e.GetDouble()).ToArray();
        var falls = expected.GetProperty("falls").EnumerateArray().Select(e => e.GetDouble()).ToArray();
        for (var i = 0; i < at.Length; i++) Assert.Equal(falls[i], 2 * (parity.Fit.LogLikelihood - land.AlikeAt(at[i])), 3e-4);
        if (expected.GetProperty("b3").GetDouble() <= 0) Assert.Equal("parity.not_rising", parity.PerAcre.Why!.Key);
        else
        {
            Assert.Equal(expected.GetProperty("log_density").GetDouble(), Math.Log(parity.PerAcre.Value!.Value), 3e-3);
            Assert.NotEqual(ParityShape.Bounded, parity.Shape);
            Assert.Null(parity.PerAcre.Low);
        }
    }

    /// <summary>Clumps an acre of each line, worked out here once more.</summary>
    private static Dictionary<string, double> Densities(string set)
    {
        var lines = File.ReadAllLines(Path.Combine(Checks.Folder("reference-seasons"), set, "season", "belts.csv"));
        var header = lines[0].Split(',');
        var rows = lines.Skip(1).Select(l => l.Split(',')).ToArray();
        double Number(string[] row, string column) => double.Parse(row[Array.IndexOf(header, column)], CultureInfo.InvariantCulture);
        return rows.GroupBy(r => r[Array.IndexOf(header, "transect")]).ToDictionary(g => g.Key, g =>
        {
            var area = g.DistinctBy(r => r[Array.IndexOf(header, "segment")]).Sum(r => Number(r, "steps") * Number(r, "step_m") * Number(r, "arm_span_m"));
            var clumps = g.Sum(r => Number(r, "clumps"));
            return (clumps == 0 ? 0.5 : clumps) / area * 4046.8564224;
        });
    }
}

/// <summary>Invented lines from thin to dense, nests in grass and cactus by turns, crossing at 300 clumps an acre.</summary>
internal sealed record ParityLand(NestSpans Nests, Dictionary<string, double> PerAcre)
{
    internal static ParityLand Of(ulong seed, double slope, double shift = 0, int nests = 40)
    {
        var chance = Seeded.Of(seed);
        var densities = Enumerable.Range(0, 16).ToDictionary(line => "T" + line.ToString(CultureInfo.InvariantCulture), line => 40 * Math.Pow(1.22, line));
        var rows = new List<NestRow>();
        for (var line = 0; line < 16; line++)
        {
            var x = Math.Log(40 * Math.Pow(1.22, line) / 300);
            var luck = 0.3 * chance.NextNormal();
            for (var nest = 0; nest < nests; nest++)
            {
                var isOther = nest % 2;
                var hazard = Math.Exp(-3.7 + luck - 0.2 * x + isOther * (shift + slope * x));
                var lost = -Math.Log(1 - chance.NextUniform()) / hazard;
                rows.Add(lost <= 14 ? new NestRow(line, 0, 14) : lost <= 28 ? new NestRow(line, 14, 28) : new NestRow(line, 28));
            }
        }

        return new ParityLand(HazardRatioTests.TwoClasses(NestRows.Spans(rows), row => row % nests % 2), densities);
    }

    internal ParityDensity Parity() => ParityDensity.Of(Nests, [false, true], PerAcre);

    /// <summary>The log-likelihood with both classes alike at a log density.</summary>
    internal double AlikeAt(double log)
    {
        var table = SpanTable.Of(Nests, ["x", "from parity"], (row, x) =>
        {
            var own = Math.Log(PerAcre[Nests.LineNames[Nests.Line[row]]]);
            (x[0], x[1]) = (own, Nests.Cover[row] == 1 ? own - log : 0);
        });
        return GroupedFit.Of(table, Link.LogHazard).Value.LogLikelihood;
    }
}
