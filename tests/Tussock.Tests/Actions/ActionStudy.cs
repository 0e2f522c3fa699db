using System.Globalization;
using Tussock.Actions;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Numerics;
using Tussock.Simulation;
using Tussock.Tests.HouseRules;
using Xunit;

namespace Tussock.Tests.Actions;

/// <summary>Invented pastures over years with known truth: do limits hold it, is the chance of "raised" worth its number, do placebos call nothing something? A part here; whole with TUSSOCK_LONG=1, figures in docs/methods/before-after-control.md.</summary>
public class ActionStudy
{
    private static readonly bool IsLong = Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1";

    /// <summary>Years, pastures, lines, nests, treated, first year with the action, whether lines last; effect, sd of years, pastures and lines.</summary>
    public static readonly (YearsDesign Design, YearsTruth Truth)[] Rows =
    [
        (new(2, 2, 4, 8, 1, 1, true), new(0.45, 0, 0.4, 0.3, 0.6)),
        (new(2, 2, 4, 8, 1, 1, false), new(0.45, -0.7, 0.4, 0.3, 0.3)),
        (new(2, 2, 12, 12, 1, 1, true), new(0.45, -0.7, 0.8, 0.6, 1)),
        (new(2, 2, 12, 12, 1, 1, false), new(0.45, 0, 0, 0, 0.6)),
        (new(2, 4, 4, 10, 2, 1, true), new(0.45, -0.7, 0.4, 0.3, 0.3)),
        (new(2, 4, 4, 10, 2, 1, false), new(0.45, 0, 0.8, 0.6, 1)),
        (new(2, 6, 6, 10, 3, 1, true), new(0.45, 0, 0.4, 0.3, 0.6)),
        (new(3, 8, 4, 10, 1, 1, true), new(0.45, 0, 0.4, 0.6, 0.3)),
        (new(3, 8, 4, 10, 1, 1, false), new(0.45, -0.7, 0.4, 0.3, 0.6)),
        (new(3, 8, 4, 10, 2, 2, false), new(0.45, 0, 0.8, 0.3, 1)),
        (new(4, 4, 6, 10, 2, 2, true), new(0.3, -0.7, 0.8, 0.3, 1)),
        (new(4, 4, 6, 10, 2, 2, false), new(0.6, 0, 0.4, 0.3, 0.3)),
        (new(5, 6, 4, 8, 3, 2, true), new(0.45, -0.7, 0.4, 0.6, 0.6)),
        (new(6, 3, 8, 10, 1, 4, true), new(0.45, 0, 0.8, 0, 1)),
        (new(10, 2, 4, 10, 1, 5, true), new(0.45, -0.7, 0.4, 0.3, 0.6)),
        (new(10, 2, 4, 10, 1, 5, false), new(0.45, 0, 0.8, 0.3, 0.3)),
        (new(10, 4, 6, 8, 2, 5, false), new(0.45, -0.7, 0.8, 0.6, 1)),
    ];

    private static int Draws => IsLong ? 800 : 16;

    [Fact]
    public void Limits_hold_the_truth_and_the_chance_is_worth_its_number()
    {
        var table = new List<string>();
        int held = 0, all = 0;
        var chances = new List<double>();
        foreach (var (design, truth) in Rows.Where(r => IsLong || r.Design.Years * r.Design.Pastures * r.Design.Lines <= 64))
        {
            int n = 0, hold = 0, ratio = 0, none = 0, draws = design.Years * design.Pastures * design.Lines > 120 ? Draws / 2 : Draws;
            for (var i = 0; i < draws; i++)
            {
                var drawn = SimulatedYears.Draw(design, truth, Seeded.Of(2026, (ulong)i));
                var fit = ActionFit.Of(Of(drawn, design));
                if (!fit.HasValue || fit.Value is not { Difference: { Low: { } low, High: { } high }, Ratio: { Low: { } less, High: { } more } })
                {
                    none++;
                    continue;
                }

                n++;
                if (low <= drawn.Difference && drawn.Difference <= high) hold++;
                if (Math.Log(less) <= truth.Effect && truth.Effect <= Math.Log(more)) ratio++;
                if (truth.Effect == 0) chances.Add(fit.Value.ChanceRaised.Value);
            }

            (held, all) = (held + hold, all + n);
            table.Add(string.Create(CultureInfo.InvariantCulture, $"| {design.Years} | {design.Pastures} ({design.Treated}) | {design.Lines} × {design.Nests} | {(design.AreLasting ? "again" : "new")} | {truth.Effect:0.0} | {truth.YearSd:0.0} | {truth.PastureSd:0.0} | {truth.LineSd:0.0} | {100.0 * hold / n:0.0} | {100.0 * ratio / n:0.0} | {none} |"));
        }

        Figures("coverage", table);
        Figures("chance", [.. Enumerable.Range(0, 10).Select(b => string.Create(CultureInfo.InvariantCulture, $"{b * 10}–{(b + 1) * 10}: {100.0 * chances.Count(c => c >= b / 10.0 && c < (b + 1) / 10.0) / chances.Count:0.0} %"))]);
        Assert.InRange((double)held / all, IsLong ? 0.94 : 0.9, 0.99);
        // Where nothing acts, every chance is as likely as every other: a tenth of them below 10 %, a tenth above 90 %.
        Assert.InRange(chances.Count(c => c < 0.1) / (double)chances.Count, IsLong ? 0.07 : 0.03, IsLong ? 0.12 : 0.17);
        Assert.InRange(chances.Count(c => c > 0.9) / (double)chances.Count, IsLong ? 0.07 : 0.03, IsLong ? 0.12 : 0.17);
    }

    [Fact]
    public void A_chance_of_raised_comes_true_as_often_as_it_says_where_effects_of_all_sizes_are_as_likely()
    {
        var design = new YearsDesign(3, 6, 4, 10, 3, 1, true);
        var said = new List<(double Chance, bool IsTrue)>();
        for (var i = 0; i < (IsLong ? 3000 : 150); i++)
        {
            var chance = Seeded.Of(11, (ulong)i);
            var effect = 3 * (chance.NextUniform() - 0.5);
            var fit = ActionFit.Of(Of(SimulatedYears.Draw(design, new(0.45, effect, 0.4, 0.3, 0.6), chance), design));
            if (fit.HasValue && fit.Value.ChanceRaised.HasValue) said.Add((fit.Value.ChanceRaised.Value, effect < 0));
        }

        (double From, double To)[] bands = [(0, 0.05), (0.05, 0.2), (0.2, 0.4), (0.4, 0.6), (0.6, 0.8), (0.8, 0.95), (0.95, 1.001)];
        var table = bands.Select(b => (b, Own: said.Where(s => s.Chance >= b.From && s.Chance < b.To).ToArray())).Where(b => b.Own.Length > 0).ToArray();
        Figures("raised", [.. table.Select(t => string.Create(CultureInfo.InvariantCulture, $"| {100 * t.b.From:0}–{Math.Min(100, 100 * t.b.To):0} | {t.Own.Length} | {100 * t.Own.Average(o => o.Chance):0} | {100.0 * t.Own.Count(o => o.IsTrue) / t.Own.Length:0} |"))]);
        foreach (var (_, own) in table) Assert.InRange(own.Count(o => o.IsTrue) / (double)own.Length - own.Average(o => o.Chance), -3.5 * Math.Sqrt(0.25 / own.Length), 3.5 * Math.Sqrt(0.25 / own.Length));
    }

    [Fact]
    public void Placebo_runs_call_nothing_something_once_in_twenty()
    {
        var table = new List<string>();
        foreach (var (design, truth) in new (YearsDesign, YearsTruth)[] { (new(2, 9, 3, 10, 3, 1, true), new(0.45, 0, 0.4, 0.3, 0.6)), (new(4, 8, 4, 8, 2, 2, false), new(0.45, 0, 0.8, 0.3, 0.6, 0.4)), (new(3, 8, 4, 8, 4, 1, true), new(0.45, 0, 0.4, 0.6, 0.6, 0.4)) })
        {
            int rejected = 0, draws = IsLong ? 400 : 12, ways = 0;
            for (var i = 0; i < draws; i++)
            {
                var placebo = Placebo(SimulatedYears.Draw(design, truth, Seeded.Of(5, (ulong)i)), design);
                ways = placebo.Runs;
                if (placebo.P.Value <= 0.05) rejected++;
            }

            table.Add(string.Create(CultureInfo.InvariantCulture, $"| {design.Years} | {design.Pastures} ({design.Treated}) | {truth.PastureYearSd:0.0} | {ways} | {100.0 * rejected / draws:0.0} |"));
            Assert.InRange(rejected / (double)draws, 0, 0.05 + (3.5 * Math.Sqrt(0.05 * 0.95 / draws)));
        }

        Figures("placebo", table);
    }

    [Fact]
    public void Pastures_as_single_numbers_know_the_luck_of_a_pasture_in_a_year_and_the_grouped_model_does_not()
    {
        var table = new List<string>();
        foreach (var luck in new[] { 0, 0.25, 0.5 })
        {
            var (design, truth) = (new YearsDesign(4, 8, 6, 10, 4, 2, true), new YearsTruth(0.45, 0, 0.4, 0.3, 0.6, luck));
            int model = 0, numbers = 0, warned = 0, draws = IsLong ? 400 : 16;
            for (var i = 0; i < draws; i++)
            {
                var nests = Of(SimulatedYears.Draw(design, truth, Seeded.Of(8, (ulong)i)), design);
                if (ActionFit.Of(nests).Value.Difference is { Low: <= 0, High: >= 0 }) model++;
                if (ActionLuck.Of(nests).Value < 0.05) warned++;
                if (ActionChanges.Of(nests) is { Low: <= 0, High: >= 0 }) numbers++;
            }

            table.Add(string.Create(CultureInfo.InvariantCulture, $"| {luck:0.0} | {100.0 * model / draws:0.0} | {100.0 * numbers / draws:0.0} | {100.0 * warned / draws:0} |"));
            Assert.InRange(warned / (double)draws, luck < 0.5 ? 0 : 0.8, luck == 0 ? 0.12 : 1);
            Assert.InRange(numbers / (double)draws, IsLong ? 0.925 : 0.85, 1);
            if (luck > 0.4 && IsLong) Assert.True(model < 0.9 * draws);
        }

        Figures("luck", table);
    }

    [Fact]
    public void A_class_for_each_pasture_does_not_take_a_poor_pasture_for_a_poor_action()
    {
        var table = new List<string>();
        foreach (var (pastures, areLasting) in new[] { (2, true), (4, true), (8, true), (4, false), (8, false) }.Take(IsLong ? 5 : 2))
        {
            var (design, truth) = (new YearsDesign(3, pastures, 4, 10, 0, 2, areLasting), new YearsTruth(0.45, 0, 0.4, 0.6, 0.6));
            List<(double Class, double Normal)> poor = [], drawn = [];
            for (var i = 0; i < (IsLong ? 80 : 6); i++)
            {
                var years = SimulatedYears.Draw(design, truth, Seeded.Of(14, (ulong)i));
                var worst = Enumerable.Range(0, pastures).MaxBy(p => Enumerable.Range(0, years.Nests.Count).Count(r => years.Pasture[r] == p && years.Nests.IsLost(r)));
                if (Both(years, design, worst) is { } one) poor.Add(one);
                if (Both(years, design, i % pastures) is { } other) drawn.Add(other);
            }

            table.Add(string.Create(CultureInfo.InvariantCulture, $"| {pastures} | {(areLasting ? "again" : "new")} | {poor.Average(p => p.Class):0.00} | {poor.Average(p => p.Normal):0.00} | {Sd(drawn.Select(p => p.Class)):0.00} | {Sd(drawn.Select(p => p.Normal)):0.00} |"));
            // Nothing acts: whatever number a poor pasture gets is the model's own.
            if (IsLong) Assert.True(Math.Abs(poor.Average(p => p.Class)) < 0.15);
        }

        Figures("class", table);
    }

    private static (double Class, double Normal)? Both(SimulatedYears drawn, YearsDesign design, int treated)
    {
        var nests = Of(drawn, design).AsIf([.. Enumerable.Range(0, design.Pastures).Select(p => p == treated ? design.From : (int?)null)]);
        var table = nests.Table();
        var options = new GroupedOptions { Profile = false, Nodes = 1 };
        var pastureOf = Enumerable.Range(0, nests.Nests.Count).GroupBy(r => nests.Nests.LineNames[nests.Nests.Line[r]], StringComparer.Ordinal).ToDictionary(g => g.Key, g => nests.Unit[g.First()], StringComparer.Ordinal);
        var asClass = GroupedFit.Of(table, Link.LogHazard, options);
        var asNormal = GroupedFit.Of(table, Link.LogHazard, [new Grouping("pasture", [.. table.GroupNames.Select(n => pastureOf[n])])], options with { Columns = [.. table.Columns.Where(c => !c.StartsWith("land", StringComparison.Ordinal))] });
        return asClass.HasValue && asNormal.HasValue && asClass.Value.Effects[^1].Coefficient.Value is { } one && asNormal.Value.Effects[^1].Coefficient.Value is { } other ? (one, other) : null;
    }

    private static double Sd(IEnumerable<double> values)
    {
        var list = values.ToArray();
        var mean = list.Average();
        return Math.Sqrt(list.Sum(v => (v - mean) * (v - mean)) / (list.Length - 1));
    }

    private static ActionPlacebo Placebo(SimulatedYears drawn, YearsDesign design)
    {
        var years = Enumerable.Range(0, design.Years).Select(y => (2020 + y).ToString(CultureInfo.InvariantCulture)).ToArray();
        var units = Enumerable.Range(0, design.Pastures).Select(p => new ActionLand("Invented ranch", "P" + p.ToString(CultureInfo.InvariantCulture), false, p < design.Treated ? years[design.From] : null));
        return ActionPlacebo.Of(new ActionLands(Of(drawn, design), [.. units], [.. years], []), new ActionOptions { MostPlacebos = 99 });
    }

    internal static ActionNests Of(SimulatedYears drawn, YearsDesign design) => new()
    {
        Nests = drawn.Nests,
        Trial = Trial.Usual,
        Year = drawn.Year,
        Unit = drawn.Pasture,
        IsWith = [.. drawn.Year.Zip(drawn.Pasture, (y, p) => p < design.Treated && y >= design.From)],
        Years = design.Years,
        Units = design.Pastures,
    };

    private static void Figures(string name, IEnumerable<string> lines)
    {
        if (IsLong) File.WriteAllLines(Path.Combine(Checkout.Root, "artifacts", "before-after-control-" + name + ".txt"), lines);
    }
}
