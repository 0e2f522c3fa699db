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
    /// Where lines are walked again, what they always differ by is taken out first.
    /// </remarks>
    /// <source>Fisher 1925, Statistical Methods for Research Workers (analysis of variance); from memory, to be confirmed.</source>
    /// <check>before-after-control</check>
    public static Answer<double> Of(ActionNests nests)
    {
        var told = ActionChanges.Told(nests);
        var lines = Enumerable.Range(0, nests.Nests.Count).Where(r => nests.Nests.Day28[r] != FateAt.Unknown && told.Contains((nests.Unit[r], nests.Year[r]))).GroupBy(r => (nests.Unit[r], nests.Year[r], nests.IsWith[r], nests.Nests.Line[r]))
            .Select(g => new LineShare(g.Key.Item1, (g.Key.Item2, g.Key.Item3), g.Key.Item4, g.Average(r => nests.Nests.Day28[r] == FateAt.Survived ? 1.0 : 0.0))).ToArray();
        var cells = lines.GroupBy(l => (l.Unit, l.When)).Select(g => new Cell(g.Key.Unit, g.Key.When.Year, g.Key.When.IsWith, g.Average(l => l.Share))).ToArray();
        if (!cells.Any(c => c.IsWith)) return NoAnswer.Because("action.luck_unknown");
        var (within, count) = (0.0, 0);
        foreach (var unit in lines.GroupBy(l => l.Unit))
        {
            var (variance, degrees) = Variance([.. unit]);
            within += variance * unit.GroupBy(l => l.When).Sum(g => 1.0 / g.Count());
            count += degrees;
        }

        var left = cells.Length - cells.Select(c => c.Unit).Distinct().Count() - cells.Select(c => c.Year).Distinct().Count();
        if (left < 2 || count < 2 || !(within > 0)) return NoAnswer.Because("action.luck_unknown");
        return Tails.FisherAbove(Residual(cells) / left / (within / cells.Length), left, count);
    }

    /// <summary>Variance of a line in a year within a pasture: what is left after year, and after the line where lines are walked again.</summary>
    private static (double Variance, int Degrees) Variance(LineShare[] lines)
    {
        int years = lines.Select(l => l.When).Distinct().Count(), own = lines.Select(l => l.Line).Distinct().Count(), lasting = lines.Length - years - own + 1;
        var rest = lines.Select(l => l.Share).ToArray();
        for (var round = 0; round < Rounds / 10; round++)
        {
            Take(l => l.When);
            if (lasting > 0) Take(l => l.Line);
        }

        var degrees = lasting > 0 ? lasting : lines.Length - years;
        return (degrees > 0 ? rest.Sum(r => r * r) / degrees : 0, degrees);

        void Take<T>(Func<LineShare, T> by)
        {
            foreach (var group in Enumerable.Range(0, rest.Length).GroupBy(i => by(lines[i])))
            {
                var mean = group.Average(i => rest[i]);
                foreach (var i in group) rest[i] -= mean;
            }
        }
    }

    private readonly record struct LineShare(int Unit, (int Year, bool IsWith) When, int Line, double Share);

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
