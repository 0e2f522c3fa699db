using System.Text.Json;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Models;

public class FitCheckTests
{
    private static FitCheckOptions Few(int resamples, ulong seed = 1) => new() { Resamples = resamples, Seed = seed, Cancel = TestContext.Current.CancellationToken };

    private static ModelDesign Design(string set, CameraTimes cameras, string effects, string folder = "season")
    {
        var season = FolderInTests.Season(Path.Combine(Checks.Folder("reference-seasons"), set, folder));
        var frame = ModelFrame.Of(season, SeasonFates.Of(season), new FrameOptions { Cameras = cameras });
        var choice = EffectChoice.Read(effects);
        return ModelDesign.Of(ModelNests.Of(frame, choice.Effects).Value, choice);
    }

    /// <summary>Nests checked on days 14 and 28 until they are lost, on lines that may differ in what no column tells: in turn (missed), at random (luck); density may act in a bow instead of a straight line.</summary>
    private static VisitRows Season(int seed, double missed = 0, double luck = 0, bool isBent = false)
    {
        var chance = Seeded.Of((ulong)seed, 77);
        var maker = new VisitRowsMaker(["intercept", "density"]);
        for (var line = 0; line < 12; line++)
        {
            maker.Group("line " + Tussock.Words.Numbers.Whole(line));
            var own = luck * chance.NextNormal();
            for (var nest = 0; nest < 10; nest++)
            {
                double[] x = [1, chance.NextUniform()];
                var eta = -3.7 + own + (line % 2 == 0 ? missed : -missed) + (isBent ? 14 * (x[1] - 0.5) * (x[1] - 0.5) : x[1]);
                var lost = -Math.Log(1 - chance.NextUniform()) / Math.Exp(eta);
                maker.Interval([new(x, 14)], lost <= 14);
                if (lost > 14) maker.Interval([new(x, 14)], lost <= 28);
            }
        }

        return maker.Rows();
    }

    [Theory]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    [InlineData("strong600")]
    [InlineData("sparse10k")]
    [InlineData("separation120")]
    public void Visits_are_the_intervals_of_the_reference_and_add_up_to_the_table_without_camera_times(string set)
    {
        using var json = JsonDocument.Parse(Checks.Read("reference-seasons", Path.Combine(set, "expected.json")));
        var counts = json.RootElement.GetProperty("counts");
        foreach (var cameras in new[] { CameraTimes.Ignore, CameraTimes.Exact })
        {
            var rows = Design(set, cameras, "cover, fortnight").Visits();
            Assert.Equal((counts.GetProperty("intervals").GetInt32(), counts.GetProperty("failed_intervals").GetInt32()), (rows.Count, rows.Lost.Count(l => l)));
            Assert.Equal(counts.GetProperty("transects").GetInt32(), rows.GroupRows.Length - 1);
        }

        var design = Design(set, CameraTimes.Ignore, "cover, fortnight");
        var (table, own) = (design.Visits().Table(), design.Table());
        Near.Is(EffectsFit.Of(own, Link.DailyLogit).Value.LogLikelihood, EffectsFit.Of(table, Link.DailyLogit).Value.LogLikelihood, 1e-12);
        Assert.Equal((own.Nests, own.Intervals, own.Losses, own.Patterns), (table.Nests, table.Intervals, table.Losses, table.Patterns));
        Assert.Equal(own.GroupNames, table.GroupNames);
    }

    [Fact]
    public void Losses_that_a_camera_timed_run_to_the_visit_that_found_them()
    {
        var exact = Design("strong600", CameraTimes.Exact, "cover", "season_with_cameras");
        var timed = exact.Nests.Frame.Nests.Count(n => n.LostAt is not null);
        Assert.True(timed > 10, "no camera times");
        Assert.Equal(timed, exact.Table().Timed.Sum());
        var (rows, without) = (exact.Visits(), Design("strong600", CameraTimes.Ignore, "cover", "season_with_cameras").Visits());
        Assert.Equal(without.Lost, rows.Lost);
        Assert.Equal(without.PieceDays, rows.PieceDays);
    }

    [Fact]
    public void Seasons_made_by_the_model_give_every_p_as_often_as_any_other()
    {
        var checks = Enumerable.Range(0, 60).Select(seed => FitCheck.Of(Season(seed), Link.LogHazard, Few(99, (ulong)seed + 1))).ToArray();
        foreach (var p in new[] { checks.Select(c => c.ByLine.Value.P).ToArray(), [.. checks.Select(c => c.ByRisk.Value.P)] })
        {
            // 4 standard errors of a share of 60
            Assert.InRange(p.Count(x => x <= 0.5), 30 - 16, 30 + 16);
            Assert.InRange(p.Count(x => x <= 0.25), 15 - 13, 15 + 13);
            Assert.InRange(p.Count(x => x <= 0.05), 0, 10);
        }

        var lines = checks.SelectMany(c => c.Lines).ToArray();
        Assert.InRange(lines.Count(l => Math.Abs(l.Standardised!.Value) > FitCheck.Beyond) / (double)lines.Length, 0.02, 0.07);
        Assert.Equal(12 * 0.0455, checks[0].OutlyingByChance, 12);
    }

    [Fact]
    public void A_strong_effect_that_the_model_lacks_gives_a_small_p()
    {
        foreach (var seed in new[] { 1, 2, 3 })
        {
            Assert.InRange(FitCheck.Of(Season(seed, missed: 1), Link.LogHazard, Few(199)).ByLine.Value.P, 0.004, 0.03);
            Assert.InRange(FitCheck.Of(Season(seed, luck: 1.5), Link.LogHazard, Few(199)).ByLine.Value.P, 0.004, 0.03);
        }

        var bent = Enumerable.Range(1, 5).Select(seed => FitCheck.Of(Season(seed, isBent: true), Link.LogHazard, Few(199)).ByRisk.Value.P).Order().ToArray();
        Assert.InRange(bent[2], 0.004, 0.1);
    }

    [Fact]
    public void Lines_that_stand_out_come_furthest_first_and_their_losses_add_up()
    {
        var rows = Season(4, missed: 1);
        var check = FitCheck.Of(rows, Link.DailyLogit, Few(19));
        Assert.NotEmpty(check.OutlyingLines);
        Assert.Equal(check.OutlyingLines.OrderByDescending(l => Math.Abs(l.Standardised!.Value)), check.OutlyingLines);
        Assert.All(check.OutlyingLines, l => Assert.True(Math.Abs(l.Standardised!.Value) > 2));
        foreach (var parts in new[] { check.Lines, check.RiskClasses })
        {
            Assert.Equal((check.Intervals, check.Losses), (parts.Sum(p => p.Intervals), parts.Sum(p => p.Observed)));
            Near.Is(check.Losses, parts.Sum(p => p.Expected), 0.02);
        }

        Assert.Equal(check.RiskClasses.OrderBy(c => c.Expected / c.Intervals), check.RiskClasses);
    }

    [Fact]
    public void What_fits_whatever_happens_says_so()
    {
        var maker = new VisitRowsMaker(["intercept"]);
        maker.Group("line");
        foreach (var isLost in new[] { true, false, false }) maker.Interval([new([1], 14)], isLost);
        var check = FitCheck.Of(maker.Rows(), Link.LogHazard, Few(19));
        Assert.Equal(("fit_check.one_line", "fit_check.too_few_classes"), (check.ByLine.Why!.Key, check.ByRisk.Why!.Key));
        var none = FitCheck.Of(Design("all_survive48", CameraTimes.Exact, "cover").Visits(), Link.LogHazard, Few(19));
        Assert.Equal("models.nothing_lost", none.ByLine.Why!.Key);
        Assert.Equal((0, 0), (none.Lines.Length, none.RiskClasses.Length));
    }

    [Fact]
    public void The_same_seed_gives_the_same_p_it_can_be_stopped_and_tells_how_far_it_is()
    {
        var told = new System.Collections.Concurrent.ConcurrentBag<double>();
        var all = FitCheck.Of(Season(1), Link.LogHazard, Few(99, 5) with { Progress = told.Add });
        Assert.Equal((99, 1.0), (told.Count, told.Max()));
        FitCheck one = null!;
        OneThread.Run(() => one = FitCheck.Of(Season(1), Link.LogHazard, Few(99, 5)));
        Assert.Equal((all.ByLine.Value, all.ByRisk.Value), (one.ByLine.Value, one.ByRisk.Value));
        using var stop = new CancellationTokenSource();
        stop.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => FitCheck.Of(Season(1), Link.LogHazard, new FitCheckOptions { Cancel = stop.Token }));
    }

    [Fact]
    public void Both_ways_to_count_rest_on_the_same_made_seasons()
    {
        var rows = Season(6);
        var check = FitCheck.Of(rows, Link.LogHazard, Few(49, 3));
        GroupedDeviance Alone(DevianceCells by) => GroupedDeviance.Of(rows, Link.LogHazard, new DevianceOptions { Cells = by, Replicates = 49, Seed = 3 }, TestContext.Current.CancellationToken).Value;
        Assert.Equal((Alone(DevianceCells.Group), Alone(DevianceCells.Risk)), (check.ByLine.Value, check.ByRisk.Value));
    }
}
