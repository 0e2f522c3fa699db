using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Models;

namespace Tussock.Actions;

/// <summary>The nests that a contrast is made of, in columns beside each other: where each lay and in which year.</summary>
/// <remarks>May be shared between threads; columns must not be changed by readers.</remarks>
internal sealed record ActionNests
{
    /// <summary>Name of the column of the action.</summary>
    public const string Action = "action";

    /// <summary>One row a nest, rows of a line together.</summary>
    public required NestSpans Nests { get; init; }

    /// <summary>Days of the trial.</summary>
    public required Trial Trial { get; init; }

    /// <summary>Index of the year of each row, ascending in time.</summary>
    public required int[] Year { get; init; }

    /// <summary>Index of the piece of land of each row.</summary>
    public required int[] Unit { get; init; }

    /// <summary>Whether the action had been taken where and when the nest lay.</summary>
    public required bool[] IsWith { get; init; }

    /// <summary>Number of years.</summary>
    public required int Years { get; init; }

    /// <summary>Number of pieces of land.</summary>
    public required int Units { get; init; }

    /// <summary>The rows for which <paramref name="keep"/> holds.</summary>
    public ActionNests Where(Func<int, bool> keep)
    {
        int[] rows = [.. Enumerable.Range(0, Nests.Count).Where(keep)];
        return this with { Nests = Nests.Rows(rows), Year = [.. rows.Select(r => Year[r])], Unit = [.. rows.Select(r => Unit[r])], IsWith = [.. rows.Select(r => IsWith[r])] };
    }

    /// <summary>The same nests as if the action had been taken elsewhere or at another time.</summary>
    /// <param name="starts">First year with the action of each piece of land; null: none.</param>
    public ActionNests AsIf(IReadOnlyList<int?> starts) => this with { IsWith = [.. Enumerable.Range(0, Nests.Count).Select(r => starts[Unit[r]] is { } start && Year[r] >= start)] };

    /// <summary>The table that models are fitted to: another hazard after the first check, a class each for year and land, the action; groups are the lines.</summary>
    public ModelTable Table()
    {
        int[] years = [.. Year.Distinct().Order()], units = [.. Unit.Distinct().Order()];
        ImmutableArray<string> columns = [.. years.Skip(1).Select(y => "year " + Words.Numbers.Whole(y)), .. units.Skip(1).Select(u => "land " + Words.Numbers.Whole(u)), Action];
        return SpanTable.Of(Nests, columns, (row, x) =>
        {
            x.Clear();
            if (Array.BinarySearch(years, Year[row]) is > 0 and var year) x[year - 1] = 1;
            if (Array.BinarySearch(units, Unit[row]) is > 0 and var unit) x[years.Length - 2 + unit] = 1;
            x[^1] = IsWith[row] ? 1 : 0;
        }, Trial.FirstCheck);
    }

    /// <summary>Where the action was taken: each combination of land and year with it, with its lines in that year, and the same days with and without.</summary>
    public ImmutableArray<(double Lines, double[] X)> Cells(ModelTable table)
    {
        var years = Year.Distinct().Order().ToArray();
        var units = Unit.Distinct().Order().ToArray();
        return [.. Enumerable.Range(0, Nests.Count).Where(r => IsWith[r] && Nests.IsWatched(r)).GroupBy(r => (Unit: Unit[r], Year: Year[r])).OrderBy(g => g.Key).Select(g =>
        {
            var x = new double[table.Width];
            x[0] = 1;
            if (Array.BinarySearch(years, g.Key.Year) is > 0 and var year) x[1 + year] = 1;
            if (Array.BinarySearch(units, g.Key.Unit) is > 0 and var unit) x[years.Length + unit] = 1;
            return ((double)g.Select(r => Nests.Line[r]).Distinct().Count(), x);
        })];
    }
}
