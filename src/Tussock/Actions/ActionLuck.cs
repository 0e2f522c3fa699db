using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Actions;

/// <summary>Whether pastures have luck of their own in a year, which the grouped model does not know.</summary>
internal static class ActionLuck
{
    /// <summary>Rounds of adjusting land, years and the action in turn.</summary>
    private const int Rounds = 300;

    /// <summary>Do pastures move from year to year by more than the spread of their lines explains?</summary>
    /// <param name="nests">The nests.</param>
    /// <returns>p of an analysis of variance: small speaks for luck of a pasture in a year; a reason where too few pastures and years are left over.</returns>
    /// <remarks>
    /// One number a pasture and year, the mean over lines of the share whole; what is left after land, year and action, against the variance of line means within pastures and years.
    /// Lines that are walked again differ within a pasture by what they always differ: the test then misses some luck, but calls none that is not there more often.
    /// </remarks>
    /// <source>Fisher 1925, Statistical Methods for Research Workers (analysis of variance); from memory, to be confirmed.</source>
    /// <check>before-after-control</check>
    public static Answer<double> Of(ActionNests nests)
    {
        var lines = Enumerable.Range(0, nests.Nests.Count).Where(r => nests.Nests.Day28[r] != FateAt.Unknown).GroupBy(r => (Unit: nests.Unit[r], Year: nests.Year[r], nests.IsWith[r], nests.Nests.Line[r]))
            .Select(g => (Cell: (g.Key.Unit, g.Key.Year, g.Key.Item3), Share: g.Average(r => nests.Nests.Day28[r] == FateAt.Survived ? 1.0 : 0.0))).GroupBy(l => l.Cell, l => l.Share).ToArray();
        var cells = lines.Select(g => new Cell(g.Key.Unit, g.Key.Year, g.Key.Item3, g.Average())).ToArray();
        var (within, count) = (0.0, 0);
        foreach (var cell in lines)
        {
            var mean = cell.Average();
            within += cell.Sum(s => (s - mean) * (s - mean)) / Math.Max(1, cell.Count() - 1) / cell.Count();
            count += cell.Count() - 1;
        }

        var left = cells.Length - cells.Select(c => c.Unit).Distinct().Count() - cells.Select(c => c.Year).Distinct().Count();
        if (left < 2 || count < 2 || !(within > 0)) return NoAnswer.Because("action.luck_unknown");
        return Tails.FisherAbove(Residual(cells) / left / (within / cells.Length), left, count);
    }

    private readonly record struct Cell(int Unit, int Year, bool IsWith, double Share);

    /// <summary>Sum of squares after land, year and action.</summary>
    private static double Residual(Cell[] cells)
    {
        var (units, years, action) = (new double[cells.Max(c => c.Unit) + 1], new double[cells.Max(c => c.Year) + 1], 0.0);
        double Rest(Cell c) => c.Share - units[c.Unit] - years[c.Year] - (c.IsWith ? action : 0);
        for (var round = 0; round < Rounds; round++)
        {
            foreach (var own in cells.GroupBy(c => c.Unit)) units[own.Key] += own.Average(Rest);
            foreach (var own in cells.GroupBy(c => c.Year)) years[own.Key] += own.Average(Rest);
            action += cells.Where(c => c.IsWith).Average(Rest);
        }

        return cells.Sum(c => Rest(c) * Rest(c));
    }
}
