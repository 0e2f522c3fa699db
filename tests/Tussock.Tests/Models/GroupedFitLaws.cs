using FsCheck.Xunit;
using Tussock.Models;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Models;

public sealed class GroupedFitLaws
{
    private static readonly GroupedOptions Quick = new() { Profile = false };

    private static readonly string[] Columns = ["(Intercept)", "other", "x"];

    [Property(MaxTest = 40)]
    public void The_order_of_groups_and_of_rows_changes_nothing(uint seed, bool logit)
    {
        var groups = Groups(seed);
        var random = Seeded.Of(seed, 1);
        var shuffled = groups.OrderBy(_ => random.NextUniform()).Select(g => (g.Name, g.Nests.OrderBy(_ => random.NextUniform()).ToList()));
        Same(Fit(groups, logit), Fit(shuffled, logit));
    }

    [Property(MaxTest = 40)]
    public void New_names_of_groups_change_nothing(uint seed, bool logit)
    {
        var groups = Groups(seed);
        Same(Fit(groups, logit), Fit(groups.Select(g => ("new " + g.Name, g.Nests)), logit));
    }

    [Property(MaxTest = 40)]
    public void A_nest_and_a_line_never_seen_again_change_nothing(uint seed, bool logit)
    {
        var groups = Groups(seed);
        Same(Fit(groups, logit), Fit(groups, logit, maker =>
        {
            maker.Pattern([1, 1, 9]);
            maker.Group("never walked again");
            maker.Pattern([1, 0, 0]);
        }));
    }

    [Property(MaxTest = 40)]
    public void A_further_intact_visit_inside_an_intact_interval_changes_nothing(uint seed, bool logit)
    {
        var groups = Groups(seed);
        Same(Fit(groups, logit), Fit(groups, logit, split: true));
    }

    [Property(MaxTest = 40)]
    public void The_likelihood_does_not_know_the_sign_of_the_spread(uint seed, bool logit)
    {
        var table = InventedTables.Of(seed, 4, 5);
        double[] point = logit ? [3, 0.4, -0.2, 0.8] : [-3, -0.4, 0.2, 0.8], turned = [.. point];
        turned[3] = -0.8;
        foreach (var likelihood in new ILikelihood[] { new NestedLaplace(table, logit ? Link.DailyLogit : Link.LogHazard, [new Grouping("pasture", [0, 0, 1, 1])]) })
        {
            var (one, other) = (new Derivatives(5), new Derivatives(5));
            likelihood.At([.. point, 0.5], one);
            likelihood.At([.. turned, 0.5], other);
            Near.Is(one.Value, other.Value, 1e-11);
            Near.Is(one.Gradient[3], -other.Gradient[3], 1e-8, floor: 1);
        }
    }

    [Property(MaxTest = 40)]
    public void More_nodes_come_nearer_to_the_integral(uint seed, bool logit)
    {
        var (table, link) = (InventedTables.Of(seed, 3, 6), logit ? Link.DailyLogit : Link.LogHazard);
        double[] point = logit ? [3.3, 0.6, -0.3, 0.7] : [-3.3, -0.6, 0.3, 0.7];
        var exact = SlowMarginal.Of(table, link, point.AsSpan(0, 3), point[3]);
        double Error(int nodes)
        {
            var at = new Derivatives(4);
            new MarginalLikelihood(table, link, nodes).At(point, at);
            return Math.Abs(at.Value - exact);
        }

        Assert.True(Error(25) <= 1e-9 * Math.Abs(exact) && Error(9) <= 1e-4 && Error(1) <= 0.5, $"{Error(1)} {Error(9)} {Error(25)}");
    }

    [Property(MaxTest = 20)]
    public void Weights_of_2_are_every_nest_twice(uint seed, bool logit)
    {
        var groups = Groups(seed).Select(g => (g.Name, g.Nests.Select(n => n with { Kind = 0 }).ToList())).ToList();
        var (twice, heavy) = (new ModelTableMaker([.. Columns]), new ModelTableMaker([.. Columns]));
        foreach (var (name, nests) in groups)
        {
            twice.Group(name);
            heavy.Group(name);
            foreach (var nest in nests)
            {
                nest.Add(twice, split: false);
                nest.Add(twice, split: false);
                var p = heavy.Pattern([1, nest.Other, nest.X], nest.Offset);
                heavy.Watched(p, nest.Lost < 14 ? 0 : nest.Lost < 28 ? 14 : 28, 2);
                if (nest.Lost < 28) heavy.LostWithin(p, 14, 2);
                heavy.Intervals += nest.Lost < 14 ? 2 : 4;
            }
        }

        Same(GroupedFit.Of(twice.Table(), logit ? Link.DailyLogit : Link.LogHazard, Quick), GroupedFit.Of(heavy.Table(), logit ? Link.DailyLogit : Link.LogHazard, Quick));
    }

    [Property(MaxTest = 60)]
    public void Odd_tables_give_a_reason_or_finite_numbers_never_an_exception(uint seed, bool logit)
    {
        var random = Seeded.Of(seed, 3);
        var maker = new ModelTableMaker([.. Columns]);
        var groups = 1 + random.NextBelow(5);
        for (var g = 0; g < groups; g++)
        {
            maker.Group($"L{g}");
            for (var i = random.NextBelow(5); i >= 0; i--)
            {
                var p = maker.Pattern([1, random.NextBelow(2), random.NextBelow(3) == 0 ? 30 * random.NextNormal() : random.NextNormal()]);
                double days = random.NextBelow(4) switch { 0 => 0.01, 1 => 500, _ => 14 };
                maker.Intervals++;
                switch (random.NextBelow(5))
                {
                    case 0: maker.LostWithin(p, days, 1 + random.NextBelow(2)); break;
                    case 1:
                        maker.Watched(p, days);
                        maker.LostAt(p);
                        break;
                    case 2: maker.LostWithin([(p, days), (maker.Pattern([1, 1, random.NextNormal()]), 3)]); break;
                    default: maker.Watched(p, days); break;
                }
            }
        }

        var table = maker.Table();
        var options = new GroupedOptions { Nodes = random.NextBelow(3) switch { 0 => 1, 1 => 9, _ => 25 } };
        var link = logit ? Link.DailyLogit : Link.LogHazard;
        foreach (var fit in new[] { GroupedFit.Of(table, link, options), GroupedFit.Of(table, link, [new Grouping("pasture", [.. Enumerable.Range(0, groups).Select(g => g % 2)])], options) })
        {
            if (!fit.HasValue) continue;
            Assert.True(double.IsFinite(fit.Value.LogLikelihood));
            Assert.All(fit.Value.Covariance, c => Assert.True(double.IsFinite(c)));
            Assert.All(fit.Value.Modes, m => Assert.True(double.IsFinite(m.Mode) && double.IsFinite(m.Sd)));
            Assert.All(fit.Value.Warnings, w => Assert.NotEmpty(Words.Catalogue.English.Say(w)));
            PatternDays[] course = [new([1, 0, 0.5], 28)];
            Assert.InRange(GroupedSurvival.Average(fit.Value, course, 28).Value ?? 0, 0, 1);
            Assert.InRange(GroupedSurvival.Typical(fit.Value, course, 28).Value ?? 0, 0, 1);
        }
    }

    private static List<(string Name, List<InventedNest> Nests)> Groups(uint seed) => InventedTables.Groups(seed, 5 + (int)(seed % 7), 8, 0.8, mixed: true);

    private static Answer<GroupedFit> Fit(IEnumerable<(string Name, List<InventedNest> Nests)> groups, bool logit, Action<ModelTableMaker>? more = null, bool split = false)
    {
        var maker = new ModelTableMaker([.. Columns]);
        foreach (var (name, nests) in groups)
        {
            maker.Group(name);
            foreach (var nest in nests) nest.Add(maker, split);
        }

        more?.Invoke(maker);
        return GroupedFit.Of(maker.Table(), logit ? Link.DailyLogit : Link.LogHazard, Quick);
    }

    private static void Same(Answer<GroupedFit> one, Answer<GroupedFit> other)
    {
        Assert.Equal(one.Why, other.Why);
        if (!one.HasValue) return;
        Near.Is(one.Value.LogLikelihood, other.Value.LogLikelihood, 1e-10);
        for (var i = 0; i < one.Value.Effects.Length; i++)
        {
            var (expected, found) = (one.Value.Effects[i].Coefficient, other.Value.Effects[i].Coefficient);
            Assert.Equal(expected.Value is null, found.Value is null);
            if (expected.Value is { } value) Near.Is(value, found.Value, 1e-5, floor: expected.Se!.Value);
            if (expected.Se is { } se) Near.Is(se, found.Se, 1e-5);
        }

        Near.Is(one.Value.Spreads[0].Sd.Value!.Value, other.Value.Spreads[0].Sd.Value, 1e-5, floor: 0.1);
    }
}
