using FsCheck.Xunit;
using Tussock.Models;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Models;

public class EffectsFitLaws
{
    private static readonly string[] Columns = ["(Intercept)", "cover", "density"];
    private static readonly Link[] Links = [Link.LogHazard, Link.DailyLogit];

    [Property]
    public void Order_of_rows_and_of_groups_changes_nothing(int seed)
    {
        var rows = Rows(seed);
        foreach (var link in Links) Same(Fit(rows, link), Fit([.. rows.Reverse()], link));
    }

    [Property]
    public void Splitting_an_intact_interval_changes_nothing(int seed)
    {
        var rows = Rows(seed);
        var split = rows.SelectMany(r => r.Lost ? new[] { r } : [r with { Days = r.Days * 0.3 }, r with { Days = r.Days * 0.7 }]).ToArray();
        foreach (var link in Links) Same(Fit(rows, link), Fit(split, link));
    }

    [Property]
    public void Splitting_an_interval_with_a_loss_never_raises_the_likelihood(int seed)
    {
        var rows = Rows(seed);
        var split = rows.SelectMany(r => r.Lost ? [r with { Days = r.Days * 0.3, Lost = false }, r with { Days = r.Days * 0.7 }] : new[] { r }).ToArray();
        foreach (var link in Links) Assert.True(Fit(split, link).LogLikelihood <= Fit(rows, link).LogLikelihood);
    }

    [Property]
    public void From_a_start_that_is_far_off_the_same_maximum_is_reached(int seed)
    {
        var chance = Seeded.Of(unchecked((ulong)seed), 8);
        var columns = EffectColumns.Of(Table(Rows(seed), unseen: false), [0, 1, 2]);
        foreach (var link in Links)
        {
            var near = new NewtonAscent(new IntervalLikelihood(columns.Table, link, columns.Scaled, 3), EffectsMaximum.Start(columns, link));
            if (near.Run(9).Stopped == NewtonStop.StepLimit) continue;
            double[] start = [.. EffectsMaximum.Start(columns, link).Select(b => b + 3 * chance.NextNormal())];
            var far = new NewtonAscent(new IntervalLikelihood(columns.Table, link, columns.Scaled, 3), start);
            var diary = far.Run(100);
            Assert.True(Near.Agree(near.Value, far.Value, 1e-12, 1), $"{link} {diary} {near.Value:R} {far.Value:R} {string.Join(' ', near.Point)} | {string.Join(' ', far.Point)}");
        }
    }

    [Property]
    public void A_nest_never_seen_again_changes_nothing(int seed)
    {
        var rows = Rows(seed);
        ModelTable table = Table(rows, unseen: false), more = Table(rows, unseen: true);
        Assert.True(more.Patterns > table.Patterns);
        foreach (var link in Links)
        {
            EffectsFit one = EffectsFit.Of(table, link).Value, other = EffectsFit.Of(more, link).Value;
            Same(one, other);
            Assert.InRange(other.Diary.Steps, one.Diary.Steps - 1, one.Diary.Steps + 1);
        }
    }

    [Property]
    public void Every_nest_twice_in_its_own_group_leaves_the_clustered_error(int seed)
    {
        var rows = Rows(seed);
        foreach (var link in Links)
        {
            EffectsFit one = Fit(rows, link), two = Fit([.. rows, .. rows], link);
            Near.Is(2 * one.LogLikelihood, two.LogLikelihood, 1e-11, floor: 1);
            if (one.IsSeparated) continue;
            for (var j = 0; j < 3; j++)
            {
                Near.Is(one.Coefficients[j].Clustered.Se!.Value, two.Coefficients[j].Clustered.Se, 1e-7);
                Near.Is(one.Coefficients[j].Independent.Se!.Value, Math.Sqrt(2) * two.Coefficients[j].Independent.Se, 1e-7);
            }
        }
    }

    [Property]
    public void A_constant_rate_has_one_likelihood_whatever_the_link(int seed)
    {
        var rows = Rows(seed).Select(r => r with { X = [1] }).ToArray();
        EffectsFit hazard = EffectsFit.Of(NestTables.Of(["(Intercept)"], rows), Link.LogHazard).Value, logit = EffectsFit.Of(NestTables.Of(["(Intercept)"], rows), Link.DailyLogit).Value;
        Near.Is(hazard.LogLikelihood, logit.LogLikelihood, 1e-11, floor: 1);
        if (!hazard.IsSeparated) Near.Is(Math.Exp(-Math.Exp(hazard.Coefficients[0].Independent.Value!.Value)), Exponentials.Expit(logit.Coefficients[0].Independent.Value!.Value), 1e-9);
    }

    [Property]
    public void Scaling_a_column_scales_its_effect_and_an_offset_shifts_the_intercept(int seed)
    {
        var rows = Rows(seed);
        var scaled = rows.Select(r => r with { X = [1, r.X[1], r.X[2] * 25], Offset = 1.5 }).ToArray();
        foreach (var link in Links)
        {
            EffectsFit one = Fit(rows, link), other = Fit(scaled, link);
            Near.Is(one.LogLikelihood, other.LogLikelihood, 1e-11, floor: 1);
            if (one.IsSeparated) continue;
            Near.Is(one.Clustered.Beta[2], 25 * other.Clustered.Beta[2], 1e-7, floor: 0.01);
            Near.Is(one.Clustered.Beta[0], other.Clustered.Beta[0] + 1.5, 1e-7, floor: 0.01);
            Near.Is(one.Coefficients[2].Clustered.Se!.Value, 25 * other.Coefficients[2].Clustered.Se, 1e-6);
        }
    }

    [Property]
    public void An_effect_more_never_lowers_the_likelihood(int seed)
    {
        var table = Table(Rows(seed), unseen: false);
        foreach (var link in Links)
        {
            var full = EffectsFit.Of(table, link).Value;
            var part = EffectsFit.Of(table, link, new EffectsOptions { Columns = ["(Intercept)", "cover"] }).Value;
            Assert.True(full.LogLikelihood >= part.LogLikelihood - 1e-9);
            var test = LikelihoodRatio.Of(full, part).Value;
            Assert.InRange(test.P, 0, 1);
            Assert.Equal(1, test.Degrees);
        }
    }

    private static void Same(EffectsFit one, EffectsFit other)
    {
        Assert.True(one.IsSeparated == other.IsSeparated && Near.Agree(one.LogLikelihood, other.LogLikelihood, 1e-11, 1), $"{one.Diary} {other.Diary} {one.LogLikelihood:R} {other.LogLikelihood:R} {string.Join(' ', one.Clustered.Beta)} | {string.Join(' ', other.Clustered.Beta)}");
        Near.Is(one.LogLikelihood, other.LogLikelihood, 1e-11, floor: 1);
        for (var j = 0; j < 3; j++)
        {
            Assert.Equal(one.Coefficients[j].Independent.Value is null, other.Coefficients[j].Independent.Value is null);
            if (one.Coefficients[j].Independent.Value is not { } value) continue;
            Near.Is(value, other.Coefficients[j].Independent.Value, 1e-7, floor: 0.01);
            if (one.Coefficients[j].Clustered.Se is { } se) Near.Is(se, other.Coefficients[j].Clustered.Se, 1e-6, floor: 1e-3);
        }
    }

    private static EffectsFit Fit(Interval[] rows, Link link) => EffectsFit.Of(NestTables.Of(Columns, rows), link).Value;

    private static Interval[] Rows(int seed)
    {
        var chance = Seeded.Of(unchecked((ulong)seed), 7);
        var rows = new List<Interval>();
        for (var nest = 0; nest < 40; nest++)
        {
            double[] x = [1, chance.NextBelow(2), Math.Round(4 * chance.NextUniform() - 2, 1)];
            var h = Math.Exp(-3.5 + 0.5 * x[1] - 0.3 * x[2]);
            var group = "line " + chance.NextBelow(6);
            double first = 11 + chance.NextBelow(7), second = 11 + chance.NextBelow(7), lost = -Math.Log(1 - chance.NextUniform()) / h;
            rows.Add(new Interval(group, x, first, lost <= first));
            if (lost > first) rows.Add(new Interval(group, x, second, lost <= first + second));
        }

        return [.. rows];
    }

    private static ModelTable Table(Interval[] rows, bool unseen)
    {
        var maker = new ModelTableMaker([.. Columns]);
        foreach (var group in rows.GroupBy(r => r.Group))
        {
            maker.Group(group.Key);
            if (unseen) maker.Pattern([1, 0, 99]);
            foreach (var row in group)
            {
                var p = maker.Pattern(row.X, row.Offset);
                if (row.Lost) maker.LostWithin(p, row.Days);
                else maker.Watched(p, row.Days);
                maker.Intervals++;
            }
        }

        return maker.Table();
    }
}
