using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>What a fit says of each of its columns, and of itself.</summary>
internal static class EffectsTable
{
    /// <summary>Fewer groups than this make cluster-robust limits doubtful.</summary>
    private const int FewGroups = 6;

    public static ImmutableArray<EffectCoefficient> Coefficients(EffectsFit fit) => [.. fit.Maximum.Chosen.Select(column =>
    {
        var name = fit.Table.Columns[column];
        if (Absent(fit, column) is { } why) return new EffectCoefficient(name, None(EffectsSpread.ClusteredMethod), null, None(EffectsSpread.IndependentMethod), null);
        Estimate clustered = One(fit.Clustered, column, fit.Options.Level), independent = One(fit.Independent, column, fit.Options.Level);
        return new EffectCoefficient(name, clustered, P(clustered, fit.Clustered.Degrees), independent, P(independent, null));

        Estimate None(string method) => Estimate.None(method, why) with { Level = fit.Options.Level };
    })];

    /// <summary>Effects of a fit with a prior: only columns left out have none.</summary>
    public static ImmutableArray<Estimate> Bounded(EffectsFit fit, FittedEffects effects) => [.. fit.Maximum.Chosen.Select(column =>
        fit.Maximum.LeftOut.Contains(column) ? Estimate.None(effects.Method, LeftOut(fit, column)) with { Level = fit.Options.Level } : One(effects, column, fit.Options.Level))];

    public static ImmutableArray<Phrase> Warnings(EffectsFit fit)
    {
        var warnings = ImmutableArray.CreateBuilder<Phrase>();
        foreach (var column in fit.Maximum.LeftOut) warnings.Add(LeftOut(fit, column));
        if (fit.IsSeparated) warnings.Add(SeparationInWords.Of(fit));
        if (fit.Clusters is > 1 and < FewGroups) warnings.Add(Phrase.Of("models.few_groups", ("groups", fit.Clusters)));
        if (!fit.Diary.IsSound) warnings.Add(Phrase.Of("models.not_converged", ("steps", fit.Diary.Steps)));
        return warnings.ToImmutable();
    }

    private static Phrase? Absent(EffectsFit fit, int column)
    {
        if (fit.Maximum.LeftOut.Contains(column)) return LeftOut(fit, column);
        return fit.IsSeparated && SeparationInWords.Infinite(fit).Contains(column) ? SeparationInWords.Of(fit) : null;
    }

    private static Phrase LeftOut(EffectsFit fit, int column) =>
        Phrase.Of(IsConstant(fit.Table, column) ? "models.constant_left_out" : "models.dependent_left_out", ("column", fit.Table.Columns[column]));

    private static bool IsConstant(ModelTable table, int column)
    {
        for (var p = 1; p < table.Patterns; p++) if (table.Row(p)[column] != table.Row(0)[column]) return false;
        return true;
    }

    private static Estimate One(FittedEffects effects, int column, double level)
    {
        var value = effects.Beta[column];
        if (effects.Covariance is null) return new Estimate { Value = value, Level = level, Method = effects.Method, Why = effects.Why };
        double se = Math.Sqrt(effects.Covariance[column * effects.Columns.Length + column]), reach = effects.Reach(level) * se;
        return new Estimate { Value = value, Se = se, Low = value - reach, High = value + reach, Level = level, Method = effects.Method };
    }

    private static double? P(Estimate effect, int? degrees)
    {
        if (effect is not { Value: { } value, Se: > 0 and var se }) return null;
        var z = -Math.Abs(value / se);
        return 2 * (degrees is { } m ? Tails.StudentBelow(z, m) : Tails.NormalBelow(z));
    }
}
