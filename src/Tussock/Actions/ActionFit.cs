using System.Collections.Immutable;
using Tussock.Models;
using Tussock.Numerics;

namespace Tussock.Actions;

/// <summary>The grouped model of an action: what it did to survival, how sure that is, and the ratio of hazards behind it.</summary>
/// <param name="Fit">The model: another hazard after the first check, a class each for year and land, the action, a normal intercept a line.</param>
/// <param name="Difference">Survival to the end of the trial with minus without the action, averaged over lines, where and when it was taken.</param>
/// <param name="Ratio">Hazard with the action as a multiple of that without.</param>
/// <param name="ChanceRaised">Chance that the action raised survival.</param>
/// <param name="Degrees">Degrees of freedom behind the limits; null without limits.</param>
internal sealed record ActionFit(GroupedFit Fit, Estimate Difference, Estimate Ratio, Answer<double> ChanceRaised, double? Degrees)
{
    /// <summary>Method of the difference, a fixed English token.</summary>
    public const string DifferenceMethod = "difference of survival averaged over lines; log hazard, another hazard after the first check, classes of year and land, action, normal intercept a line (9-node adaptive Gauss-Hermite); one-step jackknife over lines, t (Welch-Satterthwaite)";

    /// <summary>Method of the ratio, a fixed English token.</summary>
    public const string RatioMethod = "hazard ratio of the same model, jackknife and t on the log scale";

    /// <summary>How did survival move with the action, beyond how it moved without?</summary>
    /// <param name="nests">The nests, with and without the action.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>The answer; a reason when nothing can be fitted or the nests can't tell the action from years and land.</returns>
    /// <remarks>
    /// Land is a class and not a normal intercept whatever the number of pastures: an action is mostly taken where it seems needed, and with an intercept the pasture's own level before the action would count as an effect of it.
    /// Edges: where the data alone put an effect at no finite value, the answer under a weakly informative prior, said in a note; where one line alone carries the effect, no limits.
    /// Cost: one grouped fit, then one small system a line.
    /// </remarks>
    /// <source>Before–after–control contrast: Stewart-Oaten, Murdoch and Parker 1986, Ecology 67, 929–940; jackknife over clusters: Bell and McCaffrey 2002, Survey Methodology 28, 169–181; degrees of freedom: Welch 1947, Biometrika 34, 28–35 (all from memory, to be confirmed).</source>
    /// <check>before-after-control</check>
    public static Answer<ActionFit> Of(ActionNests nests, double level = 0.95)
    {
        var table = nests.Table();
        var found = GroupedFit.Of(table, Link.LogHazard, new GroupedOptions { Level = level, Profile = false });
        if (!found.HasValue) return new NoAnswer(found.Why);
        var fit = found.Value.WithPrior ?? found.Value;
        var action = table.Width - 1;
        if (fit.Effects[action].Coefficient is not { Value: { } log }) return NoAnswer.Because("action.not_told_apart");
        var (difference, slope) = Averaged(fit, nests, table);
        ImmutableArray<Phrase> notes = found.Value.WithPrior is null ? [] : [Phrase.Of("action.bounded")];
        var bare = new Estimate { Value = difference, Level = level, Method = DifferenceMethod, Notes = notes };
        var ratio = new Estimate { Value = Math.Exp(log), Level = level, Method = RatioMethod, Notes = notes };
        if (fit.Covariance.IsEmpty) return Without(Phrase.Of("models.flat"));
        var moves = GroupLeftOut.Moves(fit, action);
        if (moves.Any(m => m is null)) return Without(Phrase.Of("action.one_line"));
        var (onLog, onDifference) = (Spread(nests, table, [.. moves.Select(m => m![action])]), Spread(nests, table, [.. moves.Select(m => Dot(slope, m!))]));
        if (onLog is not { Se: > 0 } || onDifference is not { Se: > 0 }) return Without(Phrase.Of("models.groups_alike"));
        var (byLog, byDifference) = (onLog.Reach(level), onDifference.Reach(level));
        if (!double.IsFinite(Math.Exp(log + byLog))) return Without(Phrase.Of("hazard_ratio.without_limits"));
        return new ActionFit(
            fit,
            bare with { Se = onDifference.Se, Low = Math.Max(-1, difference - byDifference), High = Math.Min(1, difference + byDifference) },
            ratio with { Se = ratio.Value * onLog.Se, Low = Math.Exp(log - byLog), High = Math.Exp(log + byLog) },
            Tails.StudentBelow(-log / onLog.Se, onLog.Degrees),
            onDifference.Degrees);

        ActionFit Without(Phrase why) => new(fit, bare with { Why = why }, ratio with { Why = why }, new NoAnswer(why), null);
    }

    /// <summary>The standard error of a number from how it moves without each line, and its degrees of freedom.</summary>
    /// <remarks>Lines of one piece of land that were walked in the same years are a cell; each cell knows its own spread from its lines but one, as in Welch's test.
    /// Squared moves of n lines add up to n/(n − 1) times the variance of a mean; half of that is taken back, 1 − 1/(2n), which by simulation holds best where models are no means.</remarks>
    private static ActionSpread Spread(ActionNests nests, ModelTable table, double[] moves)
    {
        var cells = LineCells(nests, table).Zip(moves).GroupBy(c => c.First, c => c.Second, StringComparer.Ordinal).Select(c => (Sum: c.Sum(m => m * m) * (c.Count() == 1 ? 1 : 1 - (0.5 / c.Count())), Degrees: Math.Max(1, c.Count() - 1))).ToArray();
        double variance = cells.Sum(c => c.Sum);
        var degrees = cells.Sum(c => c.Sum * c.Sum / c.Degrees);
        return new ActionSpread(Math.Sqrt(variance), degrees > 0 ? variance * variance / degrees : 1);
    }

    /// <summary>The cell of each group of the table.</summary>
    private static IEnumerable<string> LineCells(ActionNests nests, ModelTable table)
    {
        var cells = Enumerable.Range(0, nests.Nests.Count).Where(nests.Nests.IsWatched).GroupBy(r => nests.Nests.Line[r])
            .ToDictionary(g => nests.Nests.LineNames[g.Key], g => string.Join(' ', g.Select(r => (nests.Unit[r], nests.Year[r])).Distinct().Order()), StringComparer.Ordinal);
        return table.GroupNames.Select(n => cells[n]);
    }

    /// <summary>The difference and its slopes by coefficients and spread.</summary>
    private static (double Value, double[] Slope) Averaged(GroupedFit fit, ActionNests nests, ModelTable table)
    {
        var cells = nests.Cells(table);
        var total = cells.Sum(c => c.Lines);
        var (value, slope) = (0.0, new double[table.Width + 1]);
        foreach (var (lines, x) in cells)
        {
            foreach (var sign in new[] { 1, -1 })
            {
                var (survival, by) = GroupedSurvival.Averaged(fit, Course(x, sign > 0, nests.Trial));
                value += sign * lines / total * survival;
                for (var j = 0; j < slope.Length; j++) slope[j] += sign * lines / total * by[j];
            }
        }

        return (value, slope);
    }

    /// <summary>The days of the trial in two pieces.</summary>
    internal static PatternDays[] Course(double[] x, bool isWith, Fates.Trial trial)
    {
        double[] before = [.. x], after = [.. x];
        before[^1] = after[^1] = isWith ? 1 : 0;
        after[1] = 1;
        return [new PatternDays(before, trial.FirstCheck), new PatternDays(after, trial.Days - trial.FirstCheck)];
    }

    private static double Dot(double[] a, double[] b)
    {
        var sum = 0.0;
        for (var i = 0; i < a.Length; i++) sum += a[i] * b[i];
        return sum;
    }
}

/// <summary>How sure a number is.</summary>
/// <param name="Se">Standard error.</param>
/// <param name="Degrees">Degrees of freedom of Student's t, &gt; 0.</param>
internal readonly record struct ActionSpread(double Se, double Degrees)
{
    /// <summary>Half the width of the limits.</summary>
    public double Reach(double level) => Tails.StudentQuantile((1 + level) / 2, Degrees) * Se;
}
