using System.Globalization;
using System.Text.Json;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;
using Tussock.Actions;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Numerics;
using Tussock.Simulation;
using Xunit;

namespace Tussock.Tests.Actions;

/// <summary>The contrast against likelihoods written down again and maximised by a general library, against refits without each line, and against numbers worked by hand.</summary>
public class ActionChecks
{
    [Theory]
    [InlineData(1, 2, 2, 3, true)]
    [InlineData(2, 3, 4, 4, false)]
    [InlineData(3, 4, 5, 3, true)]
    public void Without_intercepts_of_lines_it_is_what_a_general_optimiser_finds(ulong seed, int years, int pastures, int lines, bool areLasting)
    {
        var (nests, _) = Drawn(seed, new(years, pastures, lines, 10, 1, 1, areLasting), 0.5);
        var own = EffectsFit.Of(nests.Table(), Link.LogHazard).Value;
        var k = years + pastures + 1;
        var best = Maximised(v => Rows(nests).Sum(r => LogLikelihood(r, v, 0)), k);
        Assert.Equal(Rows(nests).Sum(r => LogLikelihood(r, best, 0)), own.LogLikelihood, 4);
        Assert.Equal(best[k - 1], own.Coefficients[^1].Independent.Value!.Value, 3);
    }

    [Theory]
    [InlineData(4, 2, 2, 4, true)]
    [InlineData(5, 2, 3, 3, false)]
    public void With_intercepts_of_lines_it_is_what_brute_integration_finds(ulong seed, int years, int pastures, int lines, bool areLasting)
    {
        var (nests, _) = Drawn(seed, new(years, pastures, lines, 10, 1, 1, areLasting), 1);
        var fit = ActionFit.Of(nests).Value;
        var k = years + pastures + 1;
        var groups = Rows(nests).GroupBy(r => r.Line).Select(g => g.ToArray()).ToArray();
        var best = Maximised(v => groups.Sum(g => Integrated(g, v, Math.Exp(v[k]))), k + 1);
        Assert.InRange(Math.Exp(best[k]), 0.2, 3);
        Assert.Equal(groups.Sum(g => Integrated(g, best, Math.Exp(best[k]))), fit.Fit.LogLikelihood, 2);
        Assert.Equal(Math.Exp(best[k - 1]), fit.Ratio.Value!.Value, 2);
        Assert.Equal(Math.Exp(best[k]), fit.Fit.Spreads[0].Sd.Value!.Value, 2);
        Assert.Equal(Difference(nests, best, Math.Exp(best[k])), fit.Difference.Value!.Value, 2);
    }

    [Fact]
    public void One_step_without_a_line_comes_near_the_whole_refit()
    {
        var (nests, _) = Drawn(7, new(3, 3, 5, 12, 1, 1, true), 0.6);
        var fit = ActionFit.Of(nests).Value;
        var table = nests.Table();
        var moves = GroupLeftOut.Moves(fit.Fit, table.Width - 1);
        var largest = moves.Max(m => Math.Abs(m![table.Width - 1]));
        for (var g = 0; g < table.Groups; g++)
        {
            var name = table.GroupNames[g];
            var rest = ActionFit.Of(nests.Where(r => nests.Nests.LineNames[nests.Nests.Line[r]] != name)).Value;
            var moved = Math.Log(fit.Ratio.Value!.Value) - Math.Log(rest.Ratio.Value!.Value);
            Assert.Equal(moved, moves[g]![table.Width - 1], 0.25 * largest);
        }
    }

    [Fact]
    public void Changes_are_those_worked_by_hand()
    {
        using var json = JsonDocument.Parse(Checks.Read("before-after-control", "by-hand.json"));
        var cells = json.RootElement.GetProperty("whole_of_ten").EnumerateArray().Select(c => (Unit: c[0].GetInt32(), Year: c[1].GetInt32(), Whole: c[2].GetInt32())).ToArray();
        var changes = ActionChanges.Of(Counted(cells, treated: [0, 1], from: 1));
        var expected = json.RootElement.GetProperty("changes");
        Assert.Equal(expected.GetProperty("estimate").GetDouble(), changes.Value!.Value, 12);
        Assert.Equal(expected.GetProperty("se").GetDouble(), changes.Se!.Value, 12);
        Assert.Equal(expected.GetProperty("low").GetDouble(), changes.Low!.Value, 4);
        Assert.Equal(expected.GetProperty("high").GetDouble(), changes.High!.Value, 4);
    }

    [Fact]
    public void A_year_that_is_worse_everywhere_changes_no_number()
    {
        (int, int, int)[] cells = [(0, 0, 4), (0, 1, 6), (1, 0, 5), (1, 1, 6), (2, 0, 5), (2, 1, 4), (3, 0, 4), (3, 1, 4)];
        var worse = cells.Select(c => c.Item2 == 1 ? (c.Item1, c.Item2, c.Item3 - 3) : c).ToArray();
        var (one, other) = (ActionChanges.Of(Counted(cells, [0, 1], 1)), ActionChanges.Of(Counted(worse, [0, 1], 1)));
        Assert.Equal(one.Value!.Value, other.Value!.Value, 12);
        Assert.Equal(one.Se!.Value, other.Se!.Value, 12);
    }

    private static ActionNests Counted((int Unit, int Year, int Whole)[] cells, int[] treated, int from)
    {
        var rows = cells.OrderBy(c => c).SelectMany((c, line) => Enumerable.Range(0, 10).Select(i => (c.Unit, c.Year, Line: line, IsWhole: i < c.Whole))).ToArray();
        var spans = new NestSpans
        {
            LastIntact = [.. rows.Select(r => r.IsWhole ? 28.0 : 14)], FirstLost = [.. rows.Select(r => r.IsWhole ? double.PositiveInfinity : 28)], LostAt = [.. rows.Select(_ => double.NaN)], Line = [.. rows.Select(r => r.Line)],
            Transect = [.. rows.Select(r => r.Line)], Nest = [.. rows.Select((_, i) => i)], Cover = new int[rows.Length], Pasture = [.. rows.Select(r => r.Unit)], Cause = new Cause[rows.Length],
            Day14 = [.. rows.Select(_ => FateAt.Survived)], Day28 = [.. rows.Select(r => r.IsWhole ? FateAt.Survived : FateAt.Lost)], LineNames = [.. cells.Select((_, i) => i.ToString(CultureInfo.InvariantCulture))], CoverNames = ["grass"],
        };
        return new ActionNests
        {
            Nests = spans, Trial = Trial.Usual, Year = [.. rows.Select(r => r.Year)], Unit = [.. rows.Select(r => r.Unit)], IsWith = [.. rows.Select(r => treated.Contains(r.Unit) && r.Year >= from)],
            Years = cells.Max(c => c.Year) + 1, Units = cells.Max(c => c.Unit) + 1,
        };
    }

    private static (ActionNests Nests, double Truth) Drawn(ulong seed, YearsDesign design, double lineSd)
    {
        var drawn = SimulatedYears.Draw(design, new(0.45, -0.5, 0.3, 0.3, lineSd), Seeded.Of(seed));
        return (ActionStudy.Of(drawn, design), drawn.Difference);
    }

    /// <summary>A nest as the textbook has it: losses between looks, hazards of two periods.</summary>
    private readonly record struct Row(int Line, int Year, int Land, bool IsWith, double Intact, double Lost, int Years, int Lands);

    private static IEnumerable<Row> Rows(ActionNests a) => Enumerable.Range(0, a.Nests.Count).Select(r => new Row(a.Nests.Line[r], a.Year[r], a.Unit[r], a.IsWith[r], a.Nests.LastIntact[r], a.Nests.FirstLost[r], a.Years, a.Units));

    /// <summary>v: level, second period, years after the first, lands after the first, action.</summary>
    private static double LogLikelihood(Row r, double[] v, double luck)
    {
        double Upto(double day) => (Math.Min(day, 14) + (Math.Exp(v[1]) * Math.Max(0, day - 14))) * Math.Exp(Math.Clamp(Eta(r.Year, r.Land, r.IsWith, r, v) + luck, -20, 20));
        return double.IsPositiveInfinity(r.Lost) ? -Upto(r.Intact) : Math.Log(1 - Math.Exp(Upto(r.Intact) - Upto(r.Lost))) - Upto(r.Intact);
    }

    private static double Eta(int year, int land, bool isWith, Row sizes, double[] v) =>
        v[0] + (year == 0 ? 0 : v[1 + year]) + (land == 0 ? 0 : v[sizes.Years + land]) + (isWith ? v[sizes.Years + sizes.Lands] : 0);

    private static double Integrated(Row[] group, double[] v, double sd)
    {
        var sum = 0.0;
        for (var z = -8.0; z <= 8; z += 0.05) sum += 0.05 * Math.Exp((-z * z / 2) + group.Sum(r => LogLikelihood(r, v, sd * z))) / Math.Sqrt(2 * Math.PI);
        return Math.Log(sum);
    }

    /// <summary>Mean over land and years with the action of survival with less without, lines' luck integrated on a fine grid.</summary>
    private static double Difference(ActionNests nests, double[] v, double sd)
    {
        var any = Rows(nests).First();
        var cells = Rows(nests).Where(r => r.IsWith).GroupBy(r => (r.Land, r.Year)).Select(g => (g.Key, Lines: g.Select(r => r.Line).Distinct().Count())).ToArray();
        double Survival(int land, int year, bool isWith)
        {
            var sum = 0.0;
            for (var z = -8.0; z <= 8; z += 0.01) sum += 0.01 * Math.Exp((-z * z / 2) - ((14 + (14 * Math.Exp(v[1]))) * Math.Exp(Eta(year, land, isWith, any, v) + (sd * z)))) / Math.Sqrt(2 * Math.PI);
            return sum;
        }

        return cells.Sum(c => c.Lines * (Survival(c.Key.Land, c.Key.Year, true) - Survival(c.Key.Land, c.Key.Year, false))) / cells.Sum(c => c.Lines);
    }

    private static double[] Maximised(Func<double[], double> value, int size)
    {
        var start = new double[size];
        start[0] = -3.5;
        start[^1] = -0.1;
        Vector<double> Slope(Vector<double> at)
        {
            var slope = Vector<double>.Build.Dense(size);
            for (var i = 0; i < size; i++)
            {
                var (up, down) = (at.ToArray(), at.ToArray());
                (up[i], down[i]) = (up[i] + 1e-5, down[i] - 1e-5);
                slope[i] = (value(down) - value(up)) / 2e-5;
            }

            return slope;
        }

        return new BfgsMinimizer(1e-5, 1e-7, 1e-9, 1000).FindMinimum(ObjectiveFunction.Gradient(v => -value(v.ToArray()), Slope), Vector<double>.Build.DenseOfArray(start)).MinimizingPoint.ToArray();
    }
}
