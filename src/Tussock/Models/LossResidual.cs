using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Losses seen in a part of the table beside those that the fit expects there.</summary>
/// <param name="Name">Group, or number of the risk class from the lowest.</param>
/// <param name="Days">Days watched, and within intervals with a loss.</param>
/// <param name="Observed">Losses.</param>
/// <param name="Expected">Cumulative hazard spent: of watched days, and of an interval with a loss up to the loss, on average.</param>
/// <param name="Standardised">(Observed − expected)/√information, about standard normal in a part that the fit describes; null where the part holds no information.</param>
public sealed record LossResidual(string Name, double Days, double Observed, double Expected, double? Standardised)
{
    /// <summary>Do groups (lines) lose more or less than the fit says?</summary>
    /// <param name="fit">The fit.</param>
    /// <returns>One a group that informs, in their order. The residuals of all groups add to about 0 where the model has an intercept on the log hazard.</returns>
    /// <remarks>
    /// A loss in an interval of cumulative hazard H has spent E[H(t) | lost] = 1 − H/(e^H − 1); so observed − expected is the score of a shift of the log hazard of that part, and
    /// its observed information is the scale. Not corrected for the effects having been fitted to the same rows, which makes the values a little too small. Parts that separation fits exactly are left out.
    /// </remarks>
    /// <source>Farrington 2000, Biometrics 56, 473–482 (residuals for interval-censored times); from memory, to be confirmed</source>
    /// <check>interval-residuals</check>
    public static ImmutableArray<LossResidual> ByGroup(EffectsFit fit)
    {
        var table = fit.Maximum.Columns.Table;
        return ResidualSums.Of(fit, pattern => GroupOf(table, pattern), table.Groups, g => table.GroupNames[g]);
    }

    /// <summary>Do nests that the fit calls safe or endangered lose as many as it says?</summary>
    /// <param name="fit">The fit.</param>
    /// <param name="classes">Number of classes of fitted daily loss with about equal numbers of expected losses, at least 2.</param>
    /// <returns>Classes from the lowest risk to the highest; fewer where many patterns are alike.</returns>
    /// <remarks>
    /// A loss that spans several patterns counts in the class of the piece with most hazard, so effects that change between visits fill the high classes: for those use <see cref="IntervalResidual"/>.
    /// </remarks>
    /// <source>Farrington 2000, Biometrics 56, 473–482 (residuals for interval-censored times); Hosmer and Lemeshow 1980, Communications in Statistics A9, 1043–1069 (classes of fitted risk); from memory, to be confirmed</source>
    /// <check>interval-residuals</check>
    public static ImmutableArray<LossResidual> ByRisk(EffectsFit fit, int classes = 10)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(classes, 2);
        var classOf = RiskClasses.Of(ResidualSums.Hazards(fit), EffectColumns.Days(fit.Maximum.Columns.Table), classes);
        return ResidualSums.Of(fit, pattern => classOf[pattern], classOf.Length == 0 ? 0 : classOf.Max() + 1, c => Words.Numbers.Whole(c + 1));
    }

    private static int GroupOf(ModelTable table, int pattern)
    {
        var at = Array.BinarySearch(table.GroupPatterns, pattern);
        if (at < 0) return ~at - 1;
        while (table.GroupPatterns[at + 1] == pattern) at++;
        return at;
    }
}
