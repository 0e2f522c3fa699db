using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The maximum of a fixed-effects likelihood, also where it lies at infinity: then the one of the smaller table that is left there.</summary>
/// <param name="Columns">Columns of the last table that take part.</param>
/// <param name="Ascent">Newton's method at its end, in scaled effects of those columns.</param>
/// <param name="Diary">What it did.</param>
/// <param name="First">Columns of the whole table that take part, before any separation.</param>
/// <param name="Chosen">Columns of the table that were asked for, ascending.</param>
/// <param name="LeftOut">Columns that are combinations of others in the whole table.</param>
/// <param name="Aliases">Raw directions, over all columns of the table, along which nothing changes because columns were left out.</param>
/// <param name="Infinite">Raw directions that separation leaves without an answer.</param>
/// <param name="Gone">Direction in log hazard of each pattern that went to infinity, for each separation in turn, in its own table.</param>
internal sealed record EffectsMaximum(EffectColumns Columns, NewtonAscent Ascent, NewtonDiary Diary, EffectColumns First, ImmutableArray<int> Chosen, ImmutableArray<int> LeftOut, ImmutableArray<double[]> Aliases, ImmutableArray<double[]> Infinite, ImmutableArray<(ModelTable Table, sbyte[] Signs)> Gone)
{
    /// <summary>Steps after which an unfinished iteration is suspected; ordinary tables need 4 to 7.</summary>
    private const int Patience = 9;

    private const int MostSteps = 200;

    /// <summary>Whether some effects are infinite at the maximum.</summary>
    public bool IsSeparated => Gone.Length > 0;

    /// <summary>All raw directions about which the likelihood says nothing.</summary>
    public ImmutableArray<double[]> Unknown => Aliases.AddRange(Infinite);

    /// <summary>Finds it.</summary>
    public static EffectsMaximum Of(ModelTable table, Link link, ImmutableArray<int> chosen)
    {
        var (first, leftOut, aliases) = Independent(table, chosen);
        var columns = first;
        var infinite = ImmutableArray<double[]>.Empty;
        var gone = ImmutableArray<(ModelTable, sbyte[])>.Empty;
        while (true)
        {
            var ascent = new NewtonAscent(new IntervalLikelihood(columns.Table, link, columns.Scaled, columns.Width), Start(columns, link));
            var (diary, signs) = Climb(ascent, columns, link);
            if (signs is null) return new EffectsMaximum(columns, ascent, diary, first, chosen, leftOut, aliases, infinite, gone);
            gone = gone.Add((columns.Table, signs));
            (columns, _, infinite) = Independent(Recession.Rest(columns.Table, signs), first.Kept);
        }
    }

    /// <summary>Scaled effects whose linear predictors come nearest to one constant daily loss: losses over days watched, half of an interval with a loss, half a loss more so that it is never 0.</summary>
    public static double[] Start(EffectColumns columns, Link link)
    {
        var table = columns.Table;
        double losses = 0.5, days = 1e-9;
        for (var p = 0; p < table.Patterns; p++) (losses, days) = (losses + table.Timed[p], days + table.Watched[p]);
        for (var loss = 0; loss < table.Losses; loss++)
        {
            losses += table.LossWeight[loss];
            for (var piece = table.LossPieces[loss]; piece < table.LossPieces[loss + 1]; piece++) days += table.LossWeight[loss] * table.PieceDays[piece] / 2;
        }

        var h = Math.Min(losses / days, 5);
        var target = new double[table.Patterns];
        for (var p = 0; p < target.Length; p++) target[p] = columns.Informs(p) ? (link == Link.LogHazard ? Math.Log(h) : -Math.Log(Exponentials.Expm1(h))) - table.Offset[p] : 0;
        var start = new double[columns.Width];
        for (var j = 0; j < start.Length; j++) start[j] = WeightedSums.Of(columns.Scaled.AsSpan(j * target.Length, target.Length), target);
        var gram = columns.Gram(_ => true);
        if (Cholesky.Factor(gram, start.Length)) Cholesky.Solve(gram, start.Length, start);
        else Array.Clear(start);
        return start;
    }

    private static (NewtonDiary Diary, sbyte[]? Signs) Climb(NewtonAscent ascent, EffectColumns columns, Link link)
    {
        var diary = ascent.Run(Patience);
        while (diary.Stopped == NewtonStop.StepLimit && ascent.Steps < MostSteps)
        {
            if (Recession.Signs(columns, link, ascent.Step) is { } signs) return (diary, signs);
            diary = ascent.Run(ascent.Steps + 1);
        }

        return (diary, ascent.Steps > Patience ? Recession.Signs(columns, link, ascent.Step) : null);
    }

    /// <summary>The chosen columns without those that are combinations of others, and the directions that this leaves unknown.</summary>
    public static (EffectColumns Columns, ImmutableArray<int> LeftOut, ImmutableArray<double[]> Unknown) Independent(ModelTable table, ImmutableArray<int> chosen)
    {
        var all = EffectColumns.Of(table, chosen);
        var dependence = all.Dependence();
        if (dependence.Tied.IsEmpty) return (all, [], []);
        var unknown = dependence.Tied.Select((tied, t) =>
        {
            var direction = new double[all.Width];
            direction[tied] = 1;
            for (var f = 0; f < dependence.Free.Length; f++) direction[dependence.Free[f]] = -dependence.Weights[t][f];
            return Spread(all, all.Raw(direction), table.Width);
        }).ToImmutableArray();
        var leftOut = dependence.Tied.Select(t => chosen[t]).ToImmutableArray();
        return (EffectColumns.Of(table, [.. chosen.Except(leftOut)]), leftOut, unknown);
    }

    /// <summary>A direction over chosen columns as one over all, its largest entry 1, without entries that are rounding for values as large as the column's.</summary>
    private static double[] Spread(EffectColumns columns, double[] direction, int width)
    {
        var moved = new double[direction.Length];
        for (var j = 0; j < moved.Length; j++) moved[j] = Math.Abs(direction[j]) * (Math.Abs(columns.Centre[j]) + columns.Scale[j]);
        double largest = direction.Max(Math.Abs), most = moved.Max();
        var all = new double[width];
        for (var j = 0; j < direction.Length; j++) if (moved[j] > 1e-7 * most) all[columns.Kept[j]] = direction[j] / largest;
        return all;
    }
}
