using System.Text.Json;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Planning.Power;
using Tussock.Simulation;
using Xunit;

namespace Tussock.Tests.Planning.Power;

public class PowerFormulaTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public static TheoryData<string, int> Tables => [.. from check in new[] { "line-correlation", "noncentral-t" } from i in Enumerable.Range(0, Rows(check).Length) select (check, i)];

    private static JsonElement[] Rows(string check) => [.. JsonDocument.Parse(Checks.Read(check, "expected.json")).RootElement.EnumerateArray()];

    [Fact]
    public void Nests_a_side_are_those_of_the_published_examples()
    {
        Near.Is(PublishedValues.Of("power.n50", "power p1=.5 p2=.75"), TwoProportions.Power(50, 0.5, 0.75), 1e-9);
        Near.Is(PublishedValues.Of("power.90", "n per group"), TwoProportions.Nests(0.5, 0.75, 0.9), 1e-6);
        Near.Is(PublishedValues.Of("power.p1", "n p1=.9 p2=1 power .8"), TwoProportions.Nests(0.9, 1), 1e-6);
    }

    [Theory]
    [InlineData(0.6, 0.4)]
    [InlineData(0.5, 0.3)]
    [InlineData(0.7, 0.5)]
    [InlineData(0.25, 0.4)]
    [InlineData(0.45, 0.3)]
    public void Nests_a_side_by_the_textbook(double p1, double p2)
    {
        foreach (var power in new[] { 0.8, 0.9 })
        {
            var id = FormattableString.Invariant($"fleiss.{p1}-{p2}.{power}");
            Near.Is(PublishedValues.Of(id, "n no cc"), TwoProportions.Nests(p1, p2, power), 1e-9);
            Near.Is(PublishedValues.Of(id, "n with cc"), TwoProportions.NestsCorrected(p1, p2, power), 1e-9);
            Assert.Equal(power, TwoProportions.Power(TwoProportions.Nests(p1, p2, power), p1, p2), 1e-12);
            Assert.Equal(TwoProportions.Nests(p1, p2, power), TwoProportions.Nests(p2, p1, power), 1e-9);
        }
    }

    [Fact]
    public void Equal_shares_are_refused() => Assert.Throws<ArgumentException>(() => TwoProportions.Nests(0.4, 0.4));

    [Fact]
    public void Design_effects_are_the_published_ones()
    {
        Near.Is(PublishedValues.Of("deff", "1+(m-1)rho m=20 rho=.05"), DesignEffect.Of(20, 0.05), 1e-12);
        Near.Is(PublishedValues.Of("deff.unequal", "1+(sum m^2/sum m -1)rho rho=.1 m=8,10,12,20"), DesignEffect.Of([8, 10, 12, 20], 0.1), 1e-12);
        Near.Is(PublishedValues.Of("deff", "n per arm clustered: 77*1.95"), 77 * DesignEffect.Of(20, 0.05), 1e-12);
        Assert.Equal(DesignEffect.Of(12, 0.1), DesignEffect.Of([12, 12, 12], 0.1), 1e-12);
    }

    [Theory]
    [MemberData(nameof(Tables))]
    public void Tables_made_apart_from_the_program_agree(string check, int row)
    {
        var r = Rows(check)[row];
        double Of(string name) => r.GetProperty(name).GetDouble();
        if (check == "line-correlation") Assert.Equal(Of("correlation"), DesignEffect.Correlation(Of("survival"), Of("sd")), 1e-6);
        else Assert.Equal(Of("above"), NoncentralStudent.Above(Of("limit"), Of("degrees"), Of("away")), 1e-8);
    }

    [Theory]
    [InlineData(3)]
    [InlineData(11)]
    public void Without_noncentrality_it_is_Students_t(double degrees) => Assert.Equal(1 - Tails.StudentBelow(1.3, degrees), NoncentralStudent.Above(1.3, degrees, 0), 1e-9);

    [Theory]
    [InlineData(0.3, 0, 8, 12)]
    [InlineData(0.5, 0.5, 12, 12)]
    [InlineData(0.7, 1, 6, 8)]
    [InlineData(0.2, 1.5, 5, 16)]
    public void The_standard_deviation_of_the_share_is_that_of_invented_seasons(double survival, double sd, int lines, int nests)
    {
        const int Seasons = 20_000;
        var question = new PowerQuestion { Design = new(lines, nests), Truth = new() { Survival = survival, LineSd = sd }, Seed = 11 };
        var rates = CallRates.Summed(question, question.Design, JudgedSeasons.Of(question, question.Design, Seasons, SeasonParts.Share, cancel: Stop));
        var formula = PowerFormula.Of(question, question.Design);
        // Exact where every fate is known: mean within five standard errors, the sd within five of its own (about sd/√(2K)).
        Assert.Equal(survival, rates.MeanShare!.Value, 5 * formula.SdShare / Math.Sqrt(Seasons));
        Assert.Equal(formula.SdShare, rates.SdShare!.Value, 5 * formula.SdShare / Math.Sqrt(2.0 * Seasons));
    }

    [Fact]
    public void Two_groups_of_independent_nests_are_told_apart_as_often_as_the_formula_says()
    {
        // Nests on a line each are independent: two seasons of 77 nests, the pooled z test.
        const int Seasons = 4000;
        var design = new SeasonDesign(77, 1);
        SeasonOutcome[] Group(double survival, ulong seed) => JudgedSeasons.Of(new PowerQuestion { Truth = new() { Survival = survival, LineSd = 0 }, Seed = seed }, design, Seasons, SeasonParts.Share, cancel: Stop);
        var (one, other) = (Group(0.5, 1), Group(0.75, 2));
        var found = one.Zip(other).Count(pair =>
        {
            var (p, q) = (pair.First.Share.Value, pair.Second.Share.Value);
            var mean = (p + q) / 2;
            return Math.Abs(p - q) > 1.959964 * Math.Sqrt(2 * mean * (1 - mean) / 77);
        });
        // Normal approximation: a point beside what chance allows.
        Assert.Equal(TwoProportions.Power(77, 0.5, 0.75), (double)found / Seasons, 0.01 + (4 * Math.Sqrt(0.09 / Seasons)));
    }

    [Theory]
    [InlineData(0.3, 6)]
    [InlineData(0.4, 12)]
    [InlineData(0.65, 8)]
    public void Calls_by_formula_are_near_those_of_invented_seasons(double survival, int lines)
    {
        var question = new PowerQuestion { Design = new(lines, 12), Truth = new() { Survival = survival, LineSd = 0.7, PerAcre = 380, DensityCv = 0.4 }, HasDensity = true, Seed = 5 };
        var rates = CallRates.Of(question, question.Design, 300, cancel: Stop);
        var formula = PowerFormula.Of(question, question.Design);
        Assert.Equal(formula.Width!.Value, rates.MeanWidth!.Value, 0.05);
        Assert.Equal(formula.SurvivalLikely, rates.SurvivalLikely, 0.1);
        Assert.Equal(formula.SurvivalUnlikely, rates.SurvivalUnlikely, 0.1);
        Assert.Equal(formula.DensityLikely, rates.DensityLikely!.Value, 0.1);
        Assert.Equal(formula.DensityUnlikely, rates.DensityUnlikely!.Value, 0.05);
    }

    /// <summary>The formula takes estimates for normal and lines for alike in spread: where that holds only chance parts it from invented seasons.</summary>
    [Theory]
    [InlineData(0.53)]
    [InlineData(0.47)]
    [InlineData(0.5)]
    public void With_many_lines_that_are_alike_formula_and_seasons_agree_within_chance(double survival)
    {
        var question = new PowerQuestion { Design = new SeasonDesign(40, 20), Truth = new SeasonTruth { Survival = survival, LineSd = 0 }, Seasons = 1500, Seed = 29 };
        var rates = CallRates.Of(question, question.Design, question.Seasons, cancel: TestContext.Current.CancellationToken);
        var formula = PowerFormula.Of(question, question.Design);
        Agree(formula.SurvivalLikely, rates.SurvivalLikely);
        Agree(formula.SurvivalUnlikely, rates.SurvivalUnlikely);
        Assert.Equal(formula.Width!.Value, rates.MeanWidth!.Value, 0.002);
        Agree(0.95, rates.Coverage!.Value);

        // Three standard errors of so many seasons, and half a point for what is not quite normal.
        void Agree(double expected, double found) => Assert.Equal(expected, found, (3 * Math.Sqrt(Math.Max(expected * (1 - expected), 1.0 / question.Seasons) / question.Seasons)) + 0.005);
    }

    [Fact]
    public void More_lines_and_more_nests_never_widen_the_interval_and_more_lines_beat_more_nests()
    {
        var question = new PowerQuestion { Truth = new() { Survival = 0.35, LineSd = 0.8 } };
        PowerFormula Of(int lines, int nests) => PowerFormula.Of(question, new SeasonDesign(lines, nests));
        for (var lines = 4; lines < 30; lines++)
        {
            Assert.True(Of(lines + 1, 12).Width < Of(lines, 12).Width);
            Assert.True(Of(lines, 13).SdShare < Of(lines, 12).SdShare);
            Assert.True(Of(lines + 1, 12).SurvivalUnlikely >= Of(lines, 12).SurvivalUnlikely - 1e-9);
            Assert.True(Of(2 * lines, 6).Width < Of(lines, 12).Width);
        }
    }

    [Fact]
    public void Above_and_below_the_benchmark_mirror_each_other()
    {
        PowerFormula Of(double survival) => PowerFormula.Of(new PowerQuestion { Truth = new() { Survival = survival, LineSd = 0 } }, new SeasonDesign(8, 12));
        Assert.Equal(Of(0.35).SurvivalUnlikely, Of(0.65).SurvivalLikely, 1e-9);
        Assert.Equal(Of(0.5).SurvivalUnlikely, Of(0.5).SurvivalLikely, 1e-9);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void Fewer_than_four_lines_are_never_called(int lines) => Assert.Equal(0, PowerFormula.Of(new PowerQuestion { Truth = new() { Survival = 0.05, LineSd = 0 } }, new SeasonDesign(lines, 100)).SurvivalCalled);

    [Fact]
    public void Cameras_worked_by_hand()
    {
        // Beta(20.5, 21.5): half-width .1468 at 41 losses, .1502 or more below; z²/(4·.15²) = 42.7. Nobody survives: as many cameras as losses.
        var all = NeededCameras.Of(0).Value;
        Assert.Equal((41, 41), (all.Losses, all.Cameras));
        Assert.Equal(42.68, all.LossesByFormula, 0.01);
        Assert.True(all.HalfWidth <= 0.15);
        Assert.True(NeededCameras.Of(0.5).Value.Cameras is > 82 and < 100);
        Assert.True(NeededCameras.Of(0.5, works: 0.5).Value.Cameras > NeededCameras.Of(0.5).Value.Cameras);
        Assert.False(NeededCameras.Of(0.999).HasValue);
    }
}
