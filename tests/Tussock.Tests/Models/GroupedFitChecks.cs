using System.Text.Json;
using Tussock.Models;
using Xunit;

namespace Tussock.Tests.Models;

public sealed class GroupedFitChecks
{
    private static readonly string[] Blocks = ["direct_laplace_observed", "direct_agq7_observed", "direct_agq9_observed", "direct_agq15_observed", "direct_agq25_observed"];

    public static TheoryData<string, string, Link, string> Seasons()
    {
        var rows = new TheoryData<string, string, Link, string>();
        foreach (var set in new[] { "tiny20", "typical144", "strong600", "sparse10k" })
        {
            foreach (var (name, link) in new[] { ("random_intercept_cloglog", Link.LogHazard), ("random_intercept_daily_logit", Link.DailyLogit) })
            {
                var block = ReferenceSeason.Block(set, "expected.json", name);
                foreach (var fit in Blocks.Where(b => block.TryGetProperty(b, out var value) && value.ValueKind == JsonValueKind.Object && value.TryGetProperty("beta", out _))) rows.Add(set, name, link, fit);
            }
        }

        return rows;
    }

    [Theory]
    [MemberData(nameof(Seasons))]
    public void Reference_seasons_agree_at_the_same_number_of_nodes(string set, string name, Link link, string block)
    {
        var expected = ReferenceSeason.Block(set, "expected.json", name).GetProperty(block);
        Agrees(expected, Fit(ReferenceTables.Season(set), expected, link, Nodes(block)));
    }

    [Theory]
    [InlineData("cbpp", 1)]
    [InlineData("cbpp", 9)]
    [InlineData("cbpp", 25)]
    [InlineData("bacteria", 1)]
    [InlineData("bacteria", 9)]
    [InlineData("bacteria", 25)]
    public void Open_data_sets_agree_at_the_same_number_of_nodes(string set, int nodes)
    {
        using var json = JsonDocument.Parse(Checks.Read("mixed-models", set + ".json"));
        var expected = json.RootElement.GetProperty($"direct_agq{nodes}_obs");
        Agrees(expected, Fit(set == "cbpp" ? ReferenceTables.Cbpp() : ReferenceTables.Bacteria(), expected, Link.LogHazard, nodes));
    }

    [Theory]
    [MemberData(nameof(Seasons))]
    public void Survival_on_a_typical_transect_and_averaged_over_transects_agree(string set, string name, Link link, string block)
    {
        var expected = ReferenceSeason.Block(set, "expected.json", name).GetProperty(block);
        var fit = Fit(ReferenceTables.Season(set), expected, link, Nodes(block));
        var columns = ReferenceTables.Season(set).Columns;
        foreach (var (cover, cactus) in new[] { ("grass", 0.0), ("cactus", 1.0) })
        {
            if (!expected.TryGetProperty($"S28_{cover}_mean_covariates", out var survival)) continue;
            double[] mean = [.. ReferenceTables.Mean(set)];
            mean[1] = cactus;
            SurvivalPiece[] days = [new([.. fit.Effects.Select(e => mean[columns.IndexOf(e.Name)])], 28)];
            Near.Is(survival.GetProperty("conditional_u0").GetDouble(), GroupedSurvival.Typical(fit, days).Value, 1e-7);
            Near.Is(survival.GetProperty("population_mean").GetDouble(), GroupedSurvival.Average(fit, days).Value, 1e-7);
        }
    }

    [Theory]
    [InlineData("random_intercept_cloglog", Link.LogHazard)]
    [InlineData("random_intercept_daily_logit", Link.DailyLogit)]
    public void Transects_within_pastures_agree(string name, Link link)
    {
        var expected = ReferenceSeason.Block("typical144", "expected.json", name).GetProperty("two_level_direct_laplace");
        var found = GroupedFit.Of(ReferenceTables.Season("typical144"), link, [new Grouping("pasture", [.. ReferenceTables.Pastures("typical144")])], new GroupedOptions { Profile = false }).Value;
        Near.Is(expected.GetProperty("loglik").GetDouble(), found.LogLikelihood, 1e-9);
        foreach (var effect in found.Effects)
        {
            Near.Is(expected.GetProperty("beta").GetProperty(effect.Name).GetDouble(), effect.Coefficient.Value, 1e-6);
            Near.Is(expected.GetProperty("se_beta").GetProperty(effect.Name).GetDouble(), effect.Coefficient.Se, 1e-5);
        }

        Near.Is(expected.GetProperty("sd_transect").GetDouble(), found.Spreads[0].Sd.Value, 1e-6);
        Near.Is(expected.GetProperty("se_sd_transect").GetDouble(), found.Spreads[0].Sd.Se, 1e-5);
        Assert.Equal(0, found.Spreads[1].Sd.Value);
        Assert.Null(found.Spreads[1].Sd.Se);
    }

    [Theory]
    [InlineData(Link.LogHazard)]
    [InlineData(Link.DailyLogit)]
    public void Several_groupings_of_which_one_is_left_are_one_grouping_by_Laplace(Link link)
    {
        var table = ReferenceTables.Season("strong600");
        var one = GroupedFit.Of(table, link, new GroupedOptions { Nodes = 1, Profile = false }).Value;
        var several = GroupedFit.Of(table, link, [], new GroupedOptions { Profile = false }).Value;
        Near.Is(one.LogLikelihood, several.LogLikelihood, 1e-11);
        for (var i = 0; i < one.Covariance.Length; i++) Near.Is(one.Covariance[i], several.Covariance[i], 1e-6, floor: 1e-6);
        for (var g = 0; g < one.Modes.Length; g++)
        {
            Near.Is(one.Modes[g].Mode, several.Modes[g].Mode, 1e-7, floor: 0.1);
            Near.Is(one.Modes[g].Sd, several.Modes[g].Sd, 1e-7);
        }
    }

    [Fact]
    public void Published_values_of_the_two_invented_sets_of_two_checks_agree()
    {
        var none = GroupedFit.Of(ReferenceTables.TwoChecks("twocheck_constructed"), Link.LogHazard, new GroupedOptions { Nodes = 25 }).Value;
        Assert.Equal(PublishedValues.Of("twocheck.glmm.nAGQ25", "sd(transect)"), none.Spreads[0].Sd.Value);
        Near.Is(PublishedValues.Of("twocheck.glmm.nAGQ25", "logLik"), none.LogLikelihood, 1e-9);
        for (var i = 0; i < 2; i++) Near.Is(PublishedValues.Of("twocheck.cloglog.cover", $"coef[{i + 1}]"), none.Effects[i].Coefficient.Value, 1e-8);
        var fit = GroupedFit.Of(ReferenceTables.TwoChecks("twocheck_seeded120"), Link.LogHazard, new GroupedOptions { Nodes = 25 }).Value;
        Near.Is(PublishedValues.Of("seeded120.glmm.cloglog.exact", "logLik"), fit.LogLikelihood, 1e-9);
        for (var i = 0; i < 2; i++) Near.Is(PublishedValues.Of("seeded120.glmm.cloglog.exact", $"beta[{i + 1}]"), fit.Effects[i].Coefficient.Value, 1e-6);
        Near.Is(PublishedValues.Of("seeded120.glmm.cloglog.exact", "sd(transect)"), fit.Spreads[0].Sd.Value, 1e-6);
        foreach (var b in new[] { 0, 1 })
        {
            SurvivalPiece[] days = [new([1, b], 28)];
            Near.Is(PublishedValues.Of("seeded120.glmm.cloglog.exact", $"typical-transect 28-day survival B={b}"), GroupedSurvival.Typical(fit, days).Value, 1e-7);
            Near.Is(PublishedValues.Of("seeded120.glmm.cloglog.exact", $"marginal 28-day survival B={b}"), GroupedSurvival.Average(fit, days).Value, 1e-7);
        }

        var laplace = GroupedFit.Of(ReferenceTables.TwoChecks("twocheck_seeded120"), Link.LogHazard, new GroupedOptions { Nodes = 1 }).Value;
        for (var i = 0; i < 2; i++) Near.Is(PublishedValues.Of("seeded120.glmm.cloglog.glmmTMB", $"beta (Laplace)[{i + 1}]"), laplace.Effects[i].Coefficient.Value, 1e-5);
        Near.Is(PublishedValues.Of("seeded120.glmm.cloglog.glmmTMB", "sd"), laplace.Spreads[0].Sd.Value, 1e-5);
    }

    [Theory]
    [InlineData("cbpp.logit.strictLaplace", 1, 1e-4)]
    [InlineData("cbpp.logit.exact", 25, 1e-6)]
    public void Published_values_of_cattle_herds_on_the_logit_scale_agree(string id, int nodes, double tolerance)
    {
        // Rows of one day: the chance to survive a day is the logit's, so signs turn; counts add the logarithms of their binomial coefficients.
        var fit = GroupedFit.Of(ReferenceTables.Cbpp(), Link.DailyLogit, new GroupedOptions { Nodes = nodes }).Value;
        using var json = JsonDocument.Parse(Checks.Read("mixed-models", "cbpp.json"));
        var constant = json.RootElement.GetProperty("log_binomial_constant").GetDouble();
        Near.Is(PublishedValues.Of(id, "logLik"), fit.LogLikelihood + constant, 1e-8);
        for (var i = 0; i < 4; i++) Near.Is(-PublishedValues.Of(id, nodes == 1 ? $"beta[{i + 1}]" : $"beta (ML, exact integration)[{i + 1}]"), fit.Effects[i].Coefficient.Value, tolerance);
        Near.Is(PublishedValues.Of(id, "sd(herd)"), fit.Spreads[0].Sd.Value, tolerance);
    }

    [Fact]
    public void Published_values_of_children_s_bacteria_on_the_logit_scale_agree()
    {
        var fit = GroupedFit.Of(ReferenceTables.Bacteria(), Link.DailyLogit, new GroupedOptions { Nodes = 25 }).Value;
        Near.Is(PublishedValues.Of("bacteria.nAGQ25", "logLik"), fit.LogLikelihood, 1e-8);
        for (var i = 0; i < 4; i++) Near.Is(-PublishedValues.Of("bacteria.nAGQ25", $"beta[{i + 1}]"), fit.Effects[i].Coefficient.Value, 1e-4);
        Near.Is(PublishedValues.Of("bacteria.nAGQ25", "sd(ID)"), fit.Spreads[0].Sd.Value, 1e-4);
    }

    private static int Nodes(string block) => block == "direct_laplace_observed" ? 1 : int.Parse(block["direct_agq".Length..block.IndexOf("_observed", StringComparison.Ordinal)], System.Globalization.CultureInfo.InvariantCulture);

    private static GroupedFit Fit(ModelTable table, JsonElement expected, Link link, int nodes)
    {
        var named = expected.GetProperty("beta").EnumerateObject().Select(b => b.Name).ToArray();
        return GroupedFit.Of(Narrowed(table, named), link, new GroupedOptions { Nodes = nodes, Profile = false }).Value;
    }

    private static ModelTable Narrowed(ModelTable table, string[] columns)
    {
        var kept = columns.Select(c => table.Columns.IndexOf(c)).ToArray();
        return new ModelTable
        {
            Columns = [.. columns],
            X = [.. Enumerable.Range(0, table.Patterns).SelectMany(p => kept.Select(c => table.X[p * table.Width + c]))],
            Offset = table.Offset, Watched = table.Watched, Timed = table.Timed, GroupPatterns = table.GroupPatterns, GroupLosses = table.GroupLosses, LossPieces = table.LossPieces,
            LossWeight = table.LossWeight, PiecePattern = table.PiecePattern, PieceDays = table.PieceDays, GroupNames = table.GroupNames, Nests = table.Nests, Intervals = table.Intervals,
        };
    }

    private static void Agrees(JsonElement expected, GroupedFit found)
    {
        Near.Is(expected.GetProperty("loglik").GetDouble(), found.LogLikelihood, 1e-9);
        foreach (var effect in found.Effects)
        {
            Near.Is(expected.GetProperty("beta").GetProperty(effect.Name).GetDouble(), effect.Coefficient.Value, 1e-6);
            Near.Is(expected.GetProperty("se_beta").GetProperty(effect.Name).GetDouble(), effect.Coefficient.Se, 1e-5);
        }

        Near.Is(expected.GetProperty("sd").GetDouble(), found.Spreads[0].Sd.Value, 1e-6, floor: 1e-3);
        if (expected.GetProperty("boundary").GetBoolean())
        {
            Assert.Equal(0, found.Spreads[0].Sd.Value);
            Assert.Contains(found.Warnings, w => w.Key == "grouped.at_zero");
        }
        else
        {
            Near.Is(expected.GetProperty("se_sd").GetDouble(), found.Spreads[0].Sd.Se, 1e-5);
        }
    }
}
