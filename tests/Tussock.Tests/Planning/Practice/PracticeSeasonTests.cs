using System.Collections.Immutable;
using Tussock.Planning.Practice;
using Tussock.Records;
using Tussock.Results;
using Tussock.Verdicts;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Planning.Practice;

public class PracticeSeasonTests
{
    private static readonly PracticeDesign Small = new(6, 8);

    [Fact]
    public void The_same_code_gives_the_same_season_and_another_seed_another()
    {
        static string Of(ulong seed) => string.Join('\n', PracticeSeason.Of(Small, seed).Records().Tables.SelectMany(t => t.Rows.Select(r => string.Join('|', r.Cells))));
        Assert.Equal(Of(7), Of(7));
        Assert.NotEqual(Of(7), Of(8));
        Assert.Equal(PracticeSeason.Of(Small, 7).Truth, PracticeSeason.OfCode(PracticeSeason.Of(Small, 7).Code)!.Truth);
    }

    [Theory]
    [InlineData(0UL)]
    [InlineData(1UL)]
    [InlineData(20_260_504UL)]
    [InlineData(ulong.MaxValue)]
    public void A_code_gives_design_and_seed_back_and_no_other_letter_does(ulong seed)
    {
        foreach (var design in new[] { Small, new PracticeDesign(30, 1, 21, HasBelts: false) })
        {
            var code = PracticeSeason.Of(design, seed).Code;
            var read = PracticeSeason.OfCode(" " + code.ToLowerInvariant())!;
            Assert.Equal((design, seed), (read.Design, read.Seed));
            for (var i = 0; i < code.Length; i++)
            {
                var other = code[i] == '7' ? '8' : '7';
                Assert.Null(PracticeSeason.OfCode(code[..i] + other + code[(i + 1)..]));
            }
        }

        Assert.Null(PracticeSeason.OfCode(""));
        Assert.Null(PracticeSeason.OfCode("6-8-14B-"));
        Assert.Null(PracticeSeason.OfCode("600-8-14B-AAAAAAAAAAAAAA"));
    }

    [Fact]
    public void No_two_seeds_that_lie_side_by_side_look_alike()
    {
        var codes = Enumerable.Range(0, 200).Select(s => PracticeSeason.Of(Small, (ulong)s).Code.Split('-')[3][..13]).ToArray();
        Assert.Equal(200, codes.Distinct().Count());
        for (var i = 1; i < codes.Length; i++) Assert.True(codes[i].Zip(codes[i - 1]).Count(p => p.First == p.Second) < 8, codes[i] + " " + codes[i - 1]);
    }

    /// <summary>The truth is written nowhere: what the records hold beside the code is what a crew would have seen.</summary>
    [Fact]
    public void The_records_say_that_they_are_invented_and_do_not_tell_the_truth()
    {
        var season = PracticeSeason.Of(Small, 7);
        var tables = season.Records();
        var read = Assert.IsType<Season>(SeasonReading.Read(tables, out var wrong));
        Assert.Empty(wrong);
        Assert.True(read.Settings.IsPractice);
        Assert.Contains("Invented, for practice", read.Settings.Title, StringComparison.Ordinal);
        var text = tables.Package.ToText() + string.Join('\n', tables.Tables.SelectMany(t => t.Rows.SelectMany(r => r.Cells)));
        foreach (var secret in new[] { season.Truth.Survival, season.Truth.LineSd, season.Truth.PerAcre, season.Truth.NotRelocated }) Assert.DoesNotContain(secret.ToString("0.000", System.Globalization.CultureInfo.InvariantCulture), text, StringComparison.Ordinal);
    }

    /// <summary>Nests not found, nests taken with bowl and washer, late checks, belts: what the records say to the commands is what the seasons of the design are told.</summary>
    [Theory]
    [InlineData(7UL)]
    [InlineData(8UL)]
    [InlineData(11UL)]
    [InlineData(12UL)]
    public void The_walked_season_is_the_first_of_those_by_which_its_design_is_judged(ulong seed)
    {
        var season = PracticeSeason.Of(new PracticeDesign(8, 6, 12), seed);
        var opened = PracticeOpened.Of(season, new Conclusion(CallKind.None, 50), new Conclusion(CallKind.None, 50));
        var results = SeasonResults.Of(SeasonReading.Read(season.Records(), out _)!);
        Assert.Equal(results.Whole.Day28.Value!.Value, opened.Share!.Value.Value, 12);
        Assert.Equal(results.Whole.Day28.Low!.Value, opened.Share.Value.Low, 12);
        Assert.Equal(season.Share(), results.Whole.Day28);
        var verdict = results.Verdicts.Single(v => v.Verdict.Survival.Lines == 8).Verdict;
        Assert.Equal((verdict.Survival.Kind, verdict.Density.Kind), (opened.Survival.Program, opened.Density!.Program));
        Assert.Equal(verdict.Density.Chance!.Value, opened.Density.ProgramChance!.Value, 9);
        Assert.Equal(results.Season.Nests.Length, season.Lines().Sum(l => l.Whole + l.Unknown + l.Lost));
    }

    [Fact]
    public void What_is_wrong_with_a_design_is_told()
    {
        Assert.Empty(Small.Wrong());
        Assert.Equal(3, new PracticeDesign(31, 0, 22).Wrong().Length);
        Assert.Throws<ArgumentException>(() => PracticeSeason.Of(new PracticeDesign(0, 8), 1));
    }

    /// <summary>Truths lie on both sides of both benchmarks, so that nobody does well by always saying the same.</summary>
    [Fact]
    public void The_truth_lies_on_either_side_about_as_often()
    {
        var truths = Enumerable.Range(1, 400).Select(s => PracticeSeason.Of(Small, (ulong)s).Truth).ToArray();
        Assert.InRange(truths.Count(t => t.Survival >= 0.5), 160, 240);
        Assert.InRange(truths.Count(t => t.PerAcre >= 300), 160, 240);
        Assert.All(truths, t => Assert.InRange(t.Survival, 0.2, 0.8));
    }

    /// <summary>By hand: 80 % for what it was is (1 − .8)²·100 = 4, for what it was not 64; even chances 25.</summary>
    [Theory]
    [InlineData(CallKind.Likely, 80, true, ConclusionEnd.Right, 4)]
    [InlineData(CallKind.Likely, 80, false, ConclusionEnd.Wrong, 64)]
    [InlineData(CallKind.Unlikely, 80, false, ConclusionEnd.Right, 4)]
    [InlineData(CallKind.Unlikely, 100, true, ConclusionEnd.Wrong, 100)]
    [InlineData(CallKind.None, 50, true, ConclusionEnd.Open, 25)]
    [InlineData(CallKind.None, 30, false, ConclusionEnd.Open, 9)]
    public void A_conclusion_is_worth_what_it_is_by_hand(CallKind side, int percent, bool isAbove, ConclusionEnd end, double penalty)
    {
        var one = new BenchmarkOpened(isAbove, new Conclusion(side, percent), CallKind.None, null);
        Assert.Equal(end, one.End);
        Assert.Equal(penalty, one.Penalty, 9);
        Assert.Null(one.ProgramPenalty);
    }

    [Fact]
    public void A_percent_that_says_the_other_side_is_no_conclusion()
    {
        Assert.NotNull(new Conclusion(CallKind.Likely, 49).Wrong());
        Assert.NotNull(new Conclusion(CallKind.None, 101).Wrong());
        Assert.NotNull(new Conclusion(CallKind.Unlikely, -1).Wrong());
        Assert.Null(new Conclusion(CallKind.None, 10).Wrong());
    }

    [Fact]
    public void A_tally_counts_each_season_once_and_the_first_time()
    {
        Assert.Null(PracticeTally.Of([]));
        PracticeOpened Opened(ulong seed, CallKind side, int percent) => PracticeOpened.Of(PracticeSeason.Of(Small, seed), new Conclusion(side, percent), null);
        var isAbove = PracticeSeason.Of(Small, 7).Truth.Survival >= 0.5;
        var right = isAbove ? CallKind.Likely : CallKind.Unlikely;
        var tally = PracticeTally.Of([Opened(7, right, 80), Opened(7, right, 100), Opened(8, CallKind.None, 50)])!;
        Assert.Equal((2, 1, 0, 1), (tally.Seasons, tally.Right, tally.Wrong, tally.Open));
        Assert.Equal((4 + 25) / 2.0, tally.Penalty, 9);
        Assert.Equal((0.8, 1, 1), (tally.Sure!.Value, tally.Favoured, tally.SideWas));
    }

    [Fact]
    public void How_often_a_design_errs_is_what_the_rates_say_and_more_lines_settle_more()
    {
        var opened = PracticeOpened.Of(PracticeSeason.Of(Small, 7), new Conclusion(CallKind.None, 50), null);
        var rates = opened.Rates(cancel: TestContext.Current.CancellationToken);
        Assert.Equal([6, 12], rates.Select(r => r.Design.Lines));
        Assert.All(rates, r => Assert.Equal(400, r.Seasons));
        Assert.True(rates[1].Clear > rates[0].Clear);
        Assert.All(rates, r => Assert.Equal(r.Clear, opened.WrongOf(r) + r.Verdicts[(int)opened.TrueVerdict], 12));
        foreach (var language in Catalogue.Languages.Select(l => Catalogue.Of(l)!))
        {
            var said = string.Join('\n', PracticeSentences.Task(opened.Season).Concat(PracticeSentences.Opened(opened)).Concat(PracticeSentences.Errors(opened, rates)).Concat(PracticeSentences.Tally(PracticeTally.Of([opened])!)).Select(language.Say));
            Assert.DoesNotContain("NaN", said, StringComparison.Ordinal);
            Assert.DoesNotContain("{", said, StringComparison.Ordinal);
        }
    }

    /// <summary>Of 400 seasons of six transects of eight nests: what stands in docs/methods/practice-season.md.</summary>
    [Fact]
    public void The_program_is_seldom_wrong_and_its_chances_cost_less_than_even_ones()
    {
        var all = Enumerable.Range(1, 400).Select(s => PracticeOpened.Of(PracticeSeason.Of(Small, (ulong)s), new Conclusion(CallKind.None, 50), new Conclusion(CallKind.None, 50))).ToArray();
        var tally = PracticeTally.Of(all)!;
        TestContext.Current.SendDiagnosticMessage($"survival right {tally.ProgramRight} wrong {tally.ProgramWrong} penalty {tally.ProgramPenalty:0.0}; density right {all.Count(a => a.Density!.ProgramEnd == ConclusionEnd.Right)} wrong {all.Count(a => a.Density!.ProgramEnd == ConclusionEnd.Wrong)} penalty {all.Average(a => a.Density!.ProgramPenalty):0.0}; covered {all.Count(a => a.Share is { } s && s.Low <= a.Season.Truth.Survival && a.Season.Truth.Survival <= s.High)}");
        Assert.InRange(tally.ProgramWrong, 0, 16);
        Assert.InRange(tally.ProgramPenalty!.Value, 5, 20);
        Assert.Equal(25, tally.Penalty, 9);
    }

    [Fact]
    public void A_season_for_practice_teaches_no_other_and_is_compared_with_none()
    {
        var practice = PracticeSeason.Of(Small, 7).Records();
        var real = Tussock.Simulation.DemoSeason.Write(1);
        Assert.Equal(["invented-2026"], SeasonPooling.Pool([practice, real], out var none)!.Pooled!.Seasons);
        Assert.Empty(none);
        Assert.Null(SeasonPooling.Pool([practice], out var stopped));
        Assert.Contains(stopped, p => p.Rule == "only_practice");

        var (first, second) = (SeasonReading.Read(practice, out _)!, SeasonReading.Read(real, out _)!);
        Assert.Empty(SeasonSigns.Of(second, [first], new ResultsOptions()).OtherSeasons);
        Assert.Empty(SeasonSigns.Of(first, [second], new ResultsOptions()).OtherSeasons);
        Assert.Empty(SeasonCases.Of(first).Offered);
    }
}
