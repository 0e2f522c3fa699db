using System.Globalization;
using System.Text;
using Tussock.Numerics;
using Tussock.Survival;
using Tussock.Years;
using Xunit;

namespace Tussock.Tests.Years;

/// <summary>Invented years with known truth: do intervals of differences hold it, does the chance of a rise mean what it says? Small here; whole with TUSSOCK_LONG=1, figures in docs/methods/between-years.md.</summary>
public class DifferenceStudy(ITestOutputHelper output)
{
    private static readonly bool IsLong = Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1";
    private static readonly double[] Edges = [0.1, 0.25, 0.5, 0.75, 0.9];

    [Fact]
    public void Intervals_hold_the_true_difference_and_chances_come_true()
    {
        var text = new StringBuilder();
        var (all, heldAll, missedCells) = (0, 0, 0);
        var bands = new (double Said, int Came, int Times)[Edges.Length + 1];
        foreach (var lines in (int[])[4, 6, 8, 12])
        {
            foreach (var (again, own) in ((bool, double)[])[(false, 1), (true, 0), (true, 0.5)])
            {
                foreach (var yearSd in (double[])[0.2, 0.5, 0.8])
                {
                    var (held, times) = Cell(lines, again, own, yearSd, IsLong ? 4000 : 60, bands);
                    var share = (double)held / times;
                    (all, heldAll, missedCells) = (all + times, heldAll + held, missedCells + (share is < 0.93 or > 0.97 ? 1 : 0));
                    text.AppendLine(CultureInfo.InvariantCulture, $"{lines} lines, {(again ? own == 0 ? "walked again" : "walked again, half of their luck new" : "other lines")}, years sd {yearSd}: {share:0.000}");
                }
            }
        }

        text.AppendLine(CultureInfo.InvariantCulture, $"all: {(double)heldAll / all:0.0000}; cells outside .93 to .97: {missedCells} of 36");
        foreach (var (said, came, times) in bands) if (times > 0) text.AppendLine(CultureInfo.InvariantCulture, $"chance said {said / times:0.000}, rose {(double)came / times:0.000} of {times}");
        output.WriteLine(text.ToString());
        Assert.InRange((double)heldAll / all, IsLong ? 0.935 : 0.92, IsLong ? 0.97 : 0.985);
        var off = bands.Where(b => b.Times > 0).Sum(b => Math.Abs(b.Said - b.Came)) / bands.Sum(b => b.Times);
        output.WriteLine(off.ToString("0.0000", CultureInfo.InvariantCulture));
        Assert.True(off < (IsLong ? 0.03 : 0.06));
    }

    private static (int Held, int Times) Cell(int lines, bool again, double own, double yearSd, int times, (double Said, int Came, int Times)[] bands)
    {
        var chance = Seeded.Of((ulong)((lines * 1000) + (again ? 100 : 0) + (own * 10) + (yearSd * 7)));
        var held = 0;
        for (var i = 0; i < times; i++)
        {
            var mean = -0.4 + (0.6 * chance.NextNormal());
            var sd = 0.2 + (0.8 * chance.NextUniform());
            var nests = 8 + chance.NextBelow(5);
            var gap = 1 + chance.NextBelow(9);
            double first = mean + (yearSd * chance.NextNormal()), second = 0;
            // Years between are drawn and passed over: the last of two to ten is compared with the first.
            for (var y = 0; y < gap; y++) second = mean + (yearSd * chance.NextNormal());
            var lasting = Enumerable.Range(0, lines).Select(_ => chance.NextNormal()).ToArray();
            var before = InventedYears.Year("2016", InventedYears.Draw(chance, first, sd, lasting, own, nests), again);
            var after = InventedYears.Year("2025", InventedYears.Draw(chance, second, sd, again ? lasting : [.. lasting.Select(_ => chance.NextNormal())], own, nests), again);
            var truth = Average(second, sd) - Average(first, sd);
            var found = SurvivalDifference.Between(before, after);
            if (found.Difference.Low <= truth && truth <= found.Difference.High) held++;
            var said = found.ChanceRose.Value;
            ref var band = ref bands[Edges.Count(e => said >= e)];
            band = (band.Said + said, band.Came + (truth > 0 ? 1 : 0), band.Times + 1);
        }

        return (held, times);
    }

    private static double Average(double beta, double sd)
    {
        double sum = 0, weight = 0;
        for (var z = -5.0; z <= 5.0; z += 0.1)
        {
            var w = Math.Exp(-z * z / 2);
            (sum, weight) = (sum + (w * Math.Exp(-Math.Exp(beta + (sd * z)))), weight + w);
        }

        return sum / weight;
    }
}
