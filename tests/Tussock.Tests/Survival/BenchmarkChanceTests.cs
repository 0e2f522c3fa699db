using System.Text.Json;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Survival;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Survival;

public sealed class BenchmarkChanceTests
{
    private const double Never = double.PositiveInfinity;

    [Fact]
    public void Without_a_watched_nest_there_is_a_reason()
    {
        Assert.Equal("chance.no_visit", BenchmarkChance.From(NestSpans.Empty, 0.5, 0.5, Trial.Usual).Why?.Key);
        Assert.Equal("chance.no_visit", BenchmarkChance.From(Nests((0, 0, Never)), 0.5, 0.5, Trial.Usual).Why?.Key);
    }

    [Fact]
    public void One_line_has_a_chance_only_where_the_caller_allows_it()
    {
        var nests = Nests((0, 28, Never), (0, 0, 14));
        Assert.True(BenchmarkChance.From(nests, 0.5, 0.5, Trial.Usual).HasValue);
        Assert.Equal("chance.one_line", BenchmarkChance.From(nests, 0.5, 0.5, Trial.Usual, oneLineIsEnough: false).Why?.Key);
    }

    [Theory]
    [InlineData(0, 0, 14, double.NaN)]
    [InlineData(1, 14, 28, double.NaN)]
    [InlineData(1, 14, 28, 20)]
    [InlineData(0, 0, 14, 3)]
    public void A_loss_that_this_fit_rules_out_is_a_reason_not_an_infinity(double phi, double a, double b, double t) =>
        Assert.Equal("chance.impossible_loss", BenchmarkChance.From(Nests((0, 28, Never, double.NaN), (1, a, b, t)), phi, 0.5, Trial.Usual).Why?.Key);

    [Theory]
    [InlineData(0.5, 0.5)]
    [InlineData(0.3, 0.71309)]
    public void Nests_that_say_nothing_leave_the_prior(double benchmark, double expected)
    {
        // With the whole hazard after day 14, nests seen intact on day 14 say nothing. Expected: 1 − Φ(logit B/1.5).
        var found = BenchmarkChance.From(Nests((0, 14, Never), (1, 14, Never)), 0, benchmark, Trial.Usual).Value;
        Assert.Equal(1 - Tails.NormalBelow(Math.Log(benchmark / (1 - benchmark)) / 1.5), found.Chance, 1e-8);
        Assert.Equal(expected, found.Chance, 0.01);
        Assert.Equal(Math.Sqrt(2 / Math.PI), found.MeanSpread, 1e-7);
        Assert.Equal(1 / (1 + Math.Exp(1.5 * Tails.NormalQuantile(0.975))), found.Day28.Low!.Value, 1e-6);
    }

    [Fact]
    public void The_slow_and_obvious_integral_agrees_camera_times_and_odd_days_too()
    {
        var nests = Nests((0, 28, Never, double.NaN), (0, 13, 27, double.NaN), (0, 0, 14, 5.5), (1, 14, 30, 22), (1, 28, Never, double.NaN), (1, 9, Never, double.NaN), (2, 0, 28, double.NaN), (2, 15, 29, double.NaN));
        var found = BenchmarkChance.From(nests, 0.4, 0.5, Trial.Usual).Value;
        var slow = SlowChance.Of(nests, 0.4);
        Assert.Equal(slow.Chance, found.Chance, 1e-5);
        Assert.Equal(slow.MeanLogit, found.MeanLogit, 1e-5);
        Assert.Equal(slow.MeanSpread, found.MeanSpread, 2e-5);
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1, 12)]
    [InlineData(5, 12)]
    [InlineData(40, 50)]
    [InlineData(1, 100_000)]
    [InlineData(2000, 50)]
    public void All_intact_and_all_lost_give_finite_opposite_calls(int lines, int each)
    {
        var intact = BenchmarkChance.From(Many(lines, each, 28, Never), 0.5, 0.5, Trial.Usual).Value;
        var lost = BenchmarkChance.From(Many(lines, each, 0, 14), 0.5, 0.5, Trial.Usual).Value;
        Assert.True(intact.Chance > 0.5 && lost.Chance < 0.5);
        foreach (var found in new[] { intact, lost })
        {
            Assert.InRange(found.Chance, 0, 1);
            Assert.True(found.Day28.Low > 0 && found.Day28.Low < found.Day28.Value && found.Day28.Value < found.Day28.High && found.Day28.High < 1);
            Assert.True(double.IsFinite(found.SdLogit) && double.IsFinite(found.MeanSpread));
        }
    }

    [Fact]
    public void A_hundred_thousand_nests_find_the_survival_they_were_made_with()
    {
        var found = BenchmarkChance.From(Invented(2000, 50, Math.Log(Math.Log(2)), 0, 3), 0.5, 0.5, Trial.Usual).Value;
        Assert.Equal(2000, found.Lines);
        Assert.Equal(100_000, found.Nests);
        Assert.Equal(0.5, found.Mean, 0.008);
        Assert.InRange(found.MeanSpread, 0, 0.06);
        Assert.InRange(found.SdLogit, 0.005, 0.012);
        var spread = BenchmarkChance.From(Invented(2000, 50, -0.4, 0.6, 4), 0.5, 0.5, Trial.Usual).Value;
        Assert.Equal(0.6, spread.MeanSpread, 0.05);
    }

    [Fact]
    public void A_few_lines_of_thousands_of_nests_are_settled_too()
    {
        var found = BenchmarkChance.From(Invented(12, 8000, -0.4, 0.6, 5), 0.5, 0.5, Trial.Usual).Value;
        Assert.InRange(found.MeanSpread, 0.3, 1.1);
        Assert.InRange(found.SdLogit, 0.1, 0.6);
    }

    [Fact]
    public void The_order_of_rows_changes_no_bit()
    {
        var nests = ReferenceSeason.Whole("typical144");
        var turned = nests.Rows([.. Enumerable.Range(0, nests.Count).OrderBy(i => nests.Line[i]).ThenByDescending(i => i)]);
        var mirrored = nests.Rows([.. Enumerable.Range(0, nests.Count).OrderByDescending(i => nests.Line[i])]);
        var expected = BenchmarkChance.From(nests, 0.4, 0.5, Trial.Usual).Value;
        foreach (var found in new[] { turned, mirrored }.Select(n => BenchmarkChance.From(n, 0.4, 0.5, Trial.Usual).Value))
        {
            Assert.Equal(expected.Chance, found.Chance);
            Assert.Equal(expected.Day28.Low, found.Day28.Low);
            Assert.Equal(expected.MeanSpread, found.MeanSpread);
        }
    }

    [Theory]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    [InlineData("strong600")]
    public void The_same_lines_again_under_new_names_narrow_the_limits(string set)
    {
        var nests = ReferenceSeason.Whole(set);
        var once = BenchmarkChance.From(nests, 0.5, 0.5, Trial.Usual).Value;
        var twice = BenchmarkChance.From(Again(nests), 0.5, 0.5, Trial.Usual).Value;
        Assert.Equal(2 * once.Lines, twice.Lines);
        Assert.True(twice.Day28.High - twice.Day28.Low < once.Day28.High - once.Day28.Low);
        Assert.True(twice.SdLogit < once.SdLogit);
    }

    [Fact]
    public void A_nest_never_seen_again_changes_nothing()
    {
        var with = BenchmarkChance.From(Nests((0, 28, Never), (0, 0, Never), (1, 0, 14), (2, 0, Never)), 0.5, 0.5, Trial.Usual).Value;
        var without = BenchmarkChance.From(Nests((0, 28, Never), (1, 0, 14)), 0.5, 0.5, Trial.Usual).Value;
        Assert.Equal(without.Chance, with.Chance);
        Assert.Equal((2, 2), (with.Lines, with.Nests));
    }

    [Fact]
    public void Every_reason_has_a_sentence()
    {
        foreach (var key in new[] { "chance.no_visit", "chance.one_line", "chance.impossible_loss", "chance.nothing_learned" }) Assert.NotEmpty(Catalogue.English.Say(key));
        Assert.Equal("more than 60 lines: survival lies too near the benchmark to call", Catalogue.English.Say(Phrase.Of("chance.too_near", ("lines", 60))));
    }

    internal static NestSpans Invented(int lines, int each, double beta, double sd, ulong seed)
    {
        var chance = Seeded.Of(seed);
        var rows = new List<(int, double, double, double)>();
        for (var g = 0; g < lines; g++)
        {
            var rate = Math.Exp(beta + (sd * chance.NextNormal())) / 28;
            for (var i = 0; i < each; i++)
            {
                var day = -Math.Log(1 - chance.NextUniform()) / rate;
                rows.Add(day <= 14 ? (g, 0, 14, double.NaN) : day <= 28 ? (g, 14, 28, double.NaN) : (g, 28, Never, double.NaN));
            }
        }

        return Nests([.. rows]);
    }

    internal static NestSpans Nests(params (int Line, double A, double B)[] rows) => Nests([.. rows.Select(r => (r.Line, r.A, r.B, double.NaN))]);

    private static NestSpans Many(int lines, int each, double a, double b) => Nests([.. Enumerable.Range(0, lines * each).Select(i => (i / each, a, b, double.NaN))]);

    private static NestSpans Again(NestSpans nests) => Nests([
        .. Enumerable.Range(0, nests.Count).Select(i => (nests.Line[i], nests.LastIntact[i], nests.FirstLost[i], nests.LostAt[i])),
        .. Enumerable.Range(0, nests.Count).Select(i => (nests.Line[i] + 10_000, nests.LastIntact[i], nests.FirstLost[i], nests.LostAt[i]))]);

    private static NestSpans Nests(params (int Line, double A, double B, double T)[] rows) => new()
    {
        LastIntact = [.. rows.Select(r => r.A)],
        FirstLost = [.. rows.Select(r => r.B)],
        LostAt = [.. rows.Select(r => r.T)],
        Line = [.. rows.Select(r => r.Line)],
        Transect = [.. rows.Select(r => r.Line)],
        Nest = [.. rows.Select((_, i) => i + 1)],
        Cover = new int[rows.Length],
        Pasture = new int[rows.Length],
        Cause = new Cause[rows.Length],
        Day14 = new FateAt[rows.Length],
        Day28 = new FateAt[rows.Length],
        LineNames = [],
        CoverNames = [],
    };
}

public sealed class PredictiveShareTests
{
    [Fact]
    public void Another_season_drawn_from_the_posterior_gives_the_same_chances()
    {
        var posterior = BenchmarkChance.From(ReferenceSeason.Whole("tiny20"), 0.55, 0.5, Trial.Usual).Value;
        var exact = PredictiveShare.Of(posterior, 14, 4);
        var points = posterior.Posterior.Points(0).ToArray();
        var cumulative = new double[points.Length];
        for (var i = 0; i < points.Length; i++) cumulative[i] = (i == 0 ? 0 : cumulative[i - 1]) + points[i].Weight;
        var chance = Seeded.Of(11);
        const int draws = 40_000;
        var counts = new double[15];
        for (var draw = 0; draw < draws; draw++)
        {
            var at = Array.BinarySearch(cumulative, chance.NextUniform() * cumulative[^1]);
            var (beta, sd, _) = points[at < 0 ? ~at : at];
            var intact = 0;
            foreach (var nests in new[] { 3, 3, 4, 4 })
            {
                var survival = Math.Exp(-Math.Exp(beta + (sd * chance.NextNormal())));
                for (var i = 0; i < nests; i++) if (chance.NextUniform() < survival) intact++;
            }

            counts[intact] += 1.0 / draws;
        }

        for (var count = 0; count <= 14; count++) Assert.Equal(counts[count], exact.Chances[count], 4 * Math.Sqrt(exact.Chances[count] / draws));
    }

    [Fact]
    public void The_mean_is_the_posterior_mean_and_points_are_in_order()
    {
        var posterior = BenchmarkChance.From(ReferenceSeason.Whole("typical144"), 0.4, 0.5, Trial.Usual).Value;
        foreach (var (nests, lines) in new[] { (1, 1), (24, 4), (24, 24), (60, 1) })
        {
            var found = PredictiveShare.Of(posterior, nests, lines);
            Assert.Equal(nests, found.Nests);
            Assert.Equal(1, found.Chances.Sum(), 1e-12);
            Assert.Equal(posterior.Mean * nests, found.Chances.Select((p, count) => p * count).Sum(), 1e-4 * nests);
            Assert.True(found.Point(0.1) <= found.Point(0.5) && found.Point(0.5) <= found.Point(0.9));
        }
    }

    [Fact]
    public void A_set_without_nests_or_with_an_empty_line_is_refused()
    {
        var posterior = BenchmarkChance.From(ReferenceSeason.Whole("tiny20"), 0.5, 0.5, Trial.Usual).Value;
        Assert.Throws<ArgumentOutOfRangeException>(() => PredictiveShare.Of(posterior, 0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => PredictiveShare.Of(posterior, 3, 4));
    }
}

public sealed class HowManyMoreTests
{
    [Fact]
    public void Nests_that_say_nothing_give_a_reason()
    {
        var prior = BenchmarkChance.From(BenchmarkChanceTests.Nests((0, 14, double.PositiveInfinity)), 0, 0.5, Trial.Usual).Value;
        Assert.Contains(HowManyMore.For(prior, Tussock.Verdicts.Calls.CertaintyFor).Why?.Key, new[] { "chance.nothing_learned", "chance.too_near" });
    }

    [Fact]
    public void Nests_follow_this_seasons_nests_a_line()
    {
        var chance = BenchmarkChance.From(ReferenceSeason.ByPasture("separation120")["PA001"], 0.25, 0.5, Trial.Usual).Value;
        var more = HowManyMore.For(chance, Tussock.Verdicts.Calls.CertaintyFor).Value;
        Assert.Equal((int)Math.Ceiling((double)more.Lines * chance.Nests / chance.Lines), more.Nests);
    }
}

/// <summary>Against the formula written a second time.</summary>
public sealed class HowManyMoreChecks
{
    [Fact]
    public void Lines_agree_with_the_second_writing()
    {
        using var expected = JsonDocument.Parse(Checks.Read("how-many-more", "expected.json"));
        foreach (var row in expected.RootElement.EnumerateArray())
        {
            string set = row.GetProperty("set").GetString()!, path = row.GetProperty("path").GetString()!;
            var phi = ReferenceSeason.Block(set, "extra.json", "posterior").At(path).GetProperty("phi").GetDouble();
            var found = HowManyMore.For(BenchmarkChance.From(ReferenceSeason.Groups(set).First(g => g.Path == path).Spans, phi, 0.5, Trial.Usual).Value, Tussock.Verdicts.Calls.CertaintyFor);
            if (row.GetProperty("lines").ValueKind == JsonValueKind.Null) Assert.Equal("chance.too_near", found.Why?.Key);
            else Assert.Equal(row.GetProperty("lines").GetInt32(), found.Value.Lines);
        }
    }
}
