using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>Seasons drawn from a fit over the same visit intervals, each fitted again.</summary>
internal sealed class InventedSeasons
{
    /// <summary>An effect without end is far enough after this many steps.</summary>
    private const int MostSteps = 40;

    private readonly VisitRows rows;
    private readonly Link link;
    private readonly DevianceOptions options;
    private readonly EffectColumns columns;
    private readonly double[] start, chances;
    private readonly int[] groupOf;

    public InventedSeasons(VisitRows rows, EffectsFit fit, DevianceOptions options)
    {
        (this.rows, link, this.options, columns) = (rows, fit.Link, options, fit.Maximum.First);
        start = EffectsMaximum.Start(columns, link);
        groupOf = new int[rows.Count];
        for (var g = 0; g + 1 < rows.GroupRows.Length; g++) Array.Fill(groupOf, g, rows.GroupRows[g], rows.GroupRows[g + 1] - rows.GroupRows[g]);
        chances = Chances(fit.Table);
    }

    /// <summary>Fitted chance of each interval of the season itself to end in a loss.</summary>
    public double[] OwnChances => chances;

    /// <summary>Cell of each interval of the season itself.</summary>
    public int[] OwnCells(DevianceCells by) => CellOf(chances, by);

    /// <summary>Deviance of the season itself.</summary>
    public (double Deviance, int Cells) Observed(DevianceCells by) => Deviance(rows.Lost, chances, by);

    /// <summary>Deviances of one invented season, one a way to count together.</summary>
    public double[] Invented(int replicate, ReadOnlySpan<DevianceCells> ways)
    {
        var chance = Seeded.Of(options.Seed, (ulong)replicate + 1);
        var lost = new bool[rows.Count];
        for (var row = 0; row < lost.Length; row++) lost[row] = chance.NextUniform() < chances[row];
        var fitted = Chances(rows.Table(lost));
        var deviances = new double[ways.Length];
        for (var way = 0; way < deviances.Length; way++) deviances[way] = Deviance(lost, fitted, ways[way]).Deviance;
        return deviances;
    }

    /// <summary>Fitted chance of each interval to be lost.</summary>
    private double[] Chances(ModelTable table)
    {
        var ascent = new NewtonAscent(new IntervalLikelihood(table, link, columns.Scaled, columns.Width), (double[])start.Clone());
        ascent.Run(MostSteps);
        var fitted = new double[rows.Count];
        var eta = ascent.Likelihood.Eta;
        for (var row = 0; row < fitted.Length; row++)
        {
            var hazard = 0.0;
            for (var piece = rows.Pieces[row]; piece < rows.Pieces[row + 1]; piece++) hazard += rows.PieceDays[piece] * DailyHazard.Of(link, eta[rows.PiecePattern[piece]]);
            fitted[row] = -Exponentials.Expm1(-hazard);
        }

        return fitted;
    }

    private int[] CellOf(double[] fitted, DevianceCells by) => by == DevianceCells.Group ? groupOf : RiskClasses.Of(fitted, [.. fitted.Select(_ => 1.0)], options.RiskClasses);

    private (double Deviance, int Cells) Deviance(bool[] lost, double[] fitted, DevianceCells by)
    {
        var cellOf = CellOf(fitted, by);
        var cells = cellOf.Max() + 1;
        double[] observed = new double[cells], expected = new double[cells], number = new double[cells];
        for (var row = 0; row < lost.Length; row++)
        {
            number[cellOf[row]]++;
            expected[cellOf[row]] += fitted[row];
            if (lost[row]) observed[cellOf[row]]++;
        }

        var sum = 0.0;
        for (var c = 0; c < cells; c++) sum += Term(observed[c], expected[c]) + Term(number[c] - observed[c], number[c] - expected[c]);
        return (Math.Max(0, 2 * sum), number.Count(n => n > 0));
    }

    private static double Term(double observed, double expected) => observed > 0 ? observed * Math.Log(observed / Math.Max(expected, 1e-300)) : 0;
}
