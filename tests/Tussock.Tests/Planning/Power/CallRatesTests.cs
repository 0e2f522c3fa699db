using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Numerics;
using Tussock.Planning.Power;
using Tussock.Records;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Tests.Models;
using Tussock.Verdicts;
using Xunit;

namespace Tussock.Tests.Planning.Power;

public class CallRatesTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private static PowerQuestion Question(double survival = 0.4, int lines = 8, int nests = 12) => new()
    {
        Design = new(lines, nests),
        Truth = new() { Survival = survival, LineSd = 0.6, NotRelocated = 0.05, LostNotRelocated = 0.1, LateDays = 2, PerAcre = 360 },
        HasDensity = true,
        Seed = 3,
    };

    [Fact]
    public void One_thread_and_all_of_them_give_the_same_bits()
    {
        var question = Question();
        var all = JudgedSeasons.Of(question, question.Design, 24, SeasonParts.All, cancel: Stop);
        SeasonOutcome[] one = [];
        OneThread.Run(() => one = JudgedSeasons.Of(question, question.Design, 24, SeasonParts.All, cancel: Stop));
        Assert.Equal(all, one);
        Assert.NotEqual(all, JudgedSeasons.Of(question with { Seed = 4 }, question.Design, 24, SeasonParts.All, cancel: Stop));
    }

    [Fact]
    public void It_can_be_stopped()
    {
        using var stop = new CancellationTokenSource();
        var done = 0;
        Assert.ThrowsAny<OperationCanceledException>(() => CallRates.Of(Question(), new SeasonDesign(8, 12), 100_000, () =>
        {
            if (Interlocked.Increment(ref done) == 20) stop.Cancel();
        }, stop.Token));
        Assert.InRange(done, 20, 1000);
    }

    [Theory]
    [InlineData(1UL)]
    [InlineData(2UL)]
    [InlineData(3UL)]
    [InlineData(4UL)]
    [InlineData(5UL)]
    [InlineData(6UL)]
    public void An_invented_season_gets_the_same_answer_as_records(ulong season)
    {
        var question = Question(survival: 0.3 + (0.08 * season));
        var outcome = JudgedSeasons.Of(question, question.Design, (int)season, SeasonParts.All, cancel: Stop)[^1];
        var nests = new SimulatedNests(question.Design, question.Truth, question.Trial);
        nests.Draw(Seeded.Of(question.Seed, season));

        var results = SeasonResults.Of(AsRecords(nests));

        Assert.Equal(outcome.Share, (results.Whole.Day28.Value!.Value, results.Whole.Day28.Low!.Value, results.Whole.Day28.High!.Value));
        Assert.Equal(outcome.SurvivalChance, results.Verdicts[0].Verdict.Survival.Chance);
        Assert.Equal((outcome.Survival, outcome.Density, outcome.Verdict), (results.Verdicts[0].Verdict.Survival.Kind, results.Verdicts[0].Verdict.Density.Kind, results.Verdicts[0].Verdict.Kind));
    }

    [Fact]
    public void A_call_that_open_fates_decide_is_taken_back()
    {
        var question = Question(0.35) with { Truth = new() { Survival = 0.35, LineSd = 0.6, NotRelocated = 0.2 } };
        var outcomes = JudgedSeasons.Of(question, question.Design, 40, SeasonParts.Survival, cancel: Stop);
        var clear = outcomes.Where(o => o.SurvivalChance is >= Calls.UsualCertainty or <= 1 - Calls.UsualCertainty).ToArray();
        Assert.Contains(clear, o => o.Survival == CallKind.None);
        Assert.Contains(clear, o => o.Survival == CallKind.Unlikely);
    }

    public static TheoryData<string> PowerScenarios => ["base", "null_strong", "many"];

    [Theory]
    [MemberData(nameof(PowerScenarios))]
    public void Invented_seasons_have_the_power_that_another_program_found(string scenario)
    {
        const int Seasons = 1500;
        var expected = JsonDocument.Parse(Checks.Read("power-of-cover-tests", "expected.json")).RootElement.GetProperty("scenarios").GetProperty(scenario);
        double Of(string name) => expected.GetProperty(name).GetDouble();
        var first = Of("b0") + Math.Log(28);
        var hazards = new LineHazards(first, first + Of("b1"), Of("sd"), 0.5);
        var estimates = new (double Estimate, bool Robust, bool Alone)[Seasons];
        Ordered.WithRoom(Seasons, () => new SimulatedNests(new((int)Of("m"), (int)Of("k")), new SeasonTruth(), hazards, Trial.Usual), (s, room) =>
        {
            room.Draw(Seeded.Of(17, (ulong)s + 1));
            var fit = EffectsFit.Of(SpanTable.Of(room.Spans, ["cover"], (row, x) => x[0] = room.Spans.Cover[row]), Link.LogHazard).Value.Coefficients[1];
            estimates[s] = (fit.Clustered.Value!.Value, fit.ClusteredP < 0.05, fit.IndependentP < 0.05);
        }, cancel: Stop);
        void Agrees(double reference, double found) => Assert.Equal(reference, found, 4 * Math.Sqrt((reference * (1 - reference) * ((1.0 / Seasons) + (1.0 / 40_000))) + 1e-6));
        Agrees(Of("cluster_robust_wald_t"), estimates.Count(e => e.Robust) / (double)Seasons);
        Agrees(Of("naive_wald_z"), estimates.Count(e => e.Alone) / (double)Seasons);
        Assert.Equal(Of("mean_estimate"), estimates.Average(e => e.Estimate), 4 * Of("sd_estimate") / Math.Sqrt(Seasons));
    }

    [Fact]
    public void Shares_read_what_not_finding_lost_nests_makes_of_them()
    {
        // .4/(.4 + .6·(1 − q)): lost nests that are never found drop out of the count.
        foreach (var q in new[] { 0.1, 0.2, 0.3 })
        {
            var question = new PowerQuestion { Design = new(12, 12), Truth = new() { Survival = 0.4, LineSd = 0.5, LostNotRelocated = q } };
            var rates = CallRates.Summed(question, question.Design, JudgedSeasons.Of(question, question.Design, 2000, SeasonParts.Share, cancel: Stop));
            Assert.Equal(0.4 / (0.4 + (0.6 * (1 - q))), rates.MeanShare!.Value, 0.01);
        }
    }

    [Fact]
    public void More_lines_make_the_answer_clearer_and_a_truth_at_the_benchmark_is_never_wrong()
    {
        var question = Question(0.3) with { HasDensity = false };
        var clear = new[] { 3, 4, 6, 12 }.Select(m => CallRates.Of(question, question.Design with { Lines = m }, 150, cancel: Stop)).ToArray();
        Assert.Equal(0, clear[0].Clear);
        for (var i = 1; i < clear.Length; i++) Assert.True(clear[i].Clear > clear[i - 1].Clear && clear[i].MeanWidth < clear[i - 1].MeanWidth);
        var atBenchmark = CallRates.Of(Question(0.5), new SeasonDesign(6, 12), 60, cancel: Stop);
        Assert.Equal((0.0, 0.0), (atBenchmark.SurvivalWrong, atBenchmark.NaiveWrong!.Value));
        Assert.Equal(1, atBenchmark.Verdicts.Sum(), 1e-12);
    }

    [Fact]
    public void Enough_lines_are_found_and_that_no_number_would_do_is_said()
    {
        var question = new PowerQuestion { Design = new(6, 12), Truth = new() { Survival = 0.25, LineSd = 0.5 } };
        var needed = NeededLines.Of(question, 80, cancel: Stop).Value;
        Assert.InRange(needed.Lines, 4, 10);
        Assert.True(needed.Chance >= NeededLines.Enough);
        Assert.InRange(Math.Abs(needed.Lines - needed.ByFormula!.Value), 0, 3);
        var near = NeededLines.Of(question with { Truth = question.Truth with { Survival = 0.5 } }, 30, cancel: Stop);
        Assert.Equal("power.no_number", near.Why!.Key);
        Assert.Null(NeededLines.LinesByFormula(question with { Truth = question.Truth with { Survival = 0.5 } }));
    }

    [Fact]
    public void A_cover_ratio_is_seen_more_often_with_more_nests_and_no_ratio_hardly_ever()
    {
        var question = new PowerQuestion { Truth = new() { Survival = 0.4, LineSd = 0.5 } };
        var (few, many) = (CoverRatioChance.Of(question, new SeasonDesign(6, 8), 2, 800, cancel: Stop).Value, CoverRatioChance.Of(question, new SeasonDesign(12, 12), 2, 800, cancel: Stop).Value);
        Assert.True(many.Seen > few.Seen + 0.1);
        Assert.Equal(many.ChanceByFormula!.Value, many.Seen, 0.1);
        var none = CoverRatioChance.Of(question, new SeasonDesign(12, 12), 1, 800, cancel: Stop).Value;
        Assert.InRange(none.Seen + none.Opposite, 0.01, 0.09);
        Assert.Equal(CoverRatioChance.Of(question, new SeasonDesign(12, 12), 0.5, 800, cancel: Stop).Value.Seen, many.Seen, 0.06);
        Assert.Equal("power.ratio_impossible", CoverRatioChance.Of(question with { Truth = question.Truth with { Survival = 0.8 } }, question.Design, 2, 10, cancel: Stop).Why!.Key);
    }

    [Fact]
    public void An_earlier_season_guides()
    {
        var demo = SeasonReading.Read(DemoSeason.Write(1), out _)!;
        var earlier = EarlierSeason.Of(demo).Value;
        Assert.InRange(earlier.LineSd, 0.05, 2);
        Assert.InRange(earlier.PerAcre!.Value, 50, 1000);
        Assert.InRange(earlier.DensityCv!.Value, 0, 1);
        Assert.Equal(earlier.LineSd, EarlierSeason.Mean([earlier, earlier]).LineSd, 1e-12);

        // Many lines of a known spread give it back.
        var truth = new SeasonTruth { Survival = 0.45, LineSd = 1, EarlyShare = 0.7, PerAcre = 250, DensityCv = 0.5 };
        var nests = new SimulatedNests(new(150, 12), truth, Trial.Usual);
        nests.Draw(Seeded.Of(8, 1));
        var found = EarlierSeason.Of(AsRecords(nests)).Value;
        Assert.Equal(1, found.LineSd, 0.25);
        Assert.Equal(0.45, found.Survival, 0.1);
        Assert.Equal(0.7, found.EarlyShare, 0.06);
        Assert.InRange(found.PerAcre!.Value, 210, 290);
        Assert.Equal(0.5, found.DensityCv!.Value, 0.15);
    }

    [Fact]
    public void Pastures_with_few_lines_are_judged_together()
    {
        Assert.Equal(new SeasonDesign(12, 8), (new PowerQuestion { Pastures = 4, Design = new(3, 8) }).Judged);
        Assert.Equal(new SeasonDesign(4, 8), (new PowerQuestion { Pastures = 4, Design = new(4, 8) }).Judged);
    }

    [Fact]
    public void A_wrong_question_is_told_all_at_once_and_not_answered()
    {
        var wrong = new PowerQuestion { Design = new(0, 500), Truth = new() { Survival = 1, LineSd = double.NaN }, Seasons = 0 };
        Assert.Equal(5, wrong.Wrong().Length);
        Assert.Throws<ArgumentException>(() => PowerAnswer.Of(wrong, new PowerExtras(), cancel: Stop));
        Assert.Empty(new PowerQuestion().Wrong());
    }

    /// <summary>The same visits and belts as rows of a season folder: the long way round.</summary>
    private static Season AsRecords(SimulatedNests drawn)
    {
        var spans = drawn.Spans;
        string N(double x) => x.ToString("R", CultureInfo.InvariantCulture);
        List<ImmutableArray<string>> transects = [], nests = [], visits = [], belts = [];
        foreach (var belt in drawn.Belts)
        {
            transects.Add(["p", "p", N(belt.Line + 1), "2020-05-01"]);
            belts.Add([N(belt.Line + 1), "1", N(belt.AreaM2), "1", "1", "reference", N(belt.Clumps)]);
        }

        for (var i = 0; i < spans.Count; i++)
        {
            var (line, nest) = (N(spans.Transect[i] + 1), N(spans.Nest[i]));
            nests.Add([line, nest, spans.CoverNames[spans.Cover[i]]]);
            if (spans.LastIntact[i] > 0) visits.Add([line, nest, N(spans.LastIntact[i]), "intact"]);
            if (double.IsFinite(spans.FirstLost[i])) visits.Add([line, nest, N(spans.FirstLost[i]), "depredated"]);
            else if (drawn.IsOpen[i]) visits.Add([line, nest, "28", "not_relocated"]);
        }

        var package = new SeasonPackage([], [new Tussock.Records.JsonProperty("name", "\"invented\""), new Tussock.Records.JsonProperty("trial_days", "28"), new Tussock.Records.JsonProperty("check_days", "[14,28]"), new Tussock.Records.JsonProperty("cover_classes", "[\"reference\",\"other\"]")], []);
        var tables = new SeasonTables(package,
            [
                Table(RecordKind.Pastures, "property pasture", [["p", "p"]]), Table(RecordKind.Transects, "property pasture transect set_on", transects), Table(RecordKind.Nests, "transect nest cover", nests),
                Table(RecordKind.Visits, "transect nest day finding", visits), Table(RecordKind.Belts, "transect segment steps step_m arm_span_m cover clumps", belts),
            ],
            ImmutableSortedDictionary<string, string>.Empty);
        return SeasonReading.Read(tables, out var problems) ?? throw new InvalidOperationException(problems[0].What.Key);
    }

    private static RecordTable Table(RecordKind kind, string columns, List<ImmutableArray<string>> rows) => new(kind, [.. columns.Split(' ')], [.. rows.Select((cells, i) => new RecordRow(i + 2, cells))]);
}
