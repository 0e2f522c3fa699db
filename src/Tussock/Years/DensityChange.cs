using Tussock.Numerics;
using Tussock.Survival;

namespace Tussock.Years;

/// <summary>How many times as many clumps an acre stand in one year as in an earlier one.</summary>
/// <param name="Ratio">Later divided by earlier density, with its limits.</param>
/// <param name="ChanceRose">Chance that it rose, in (0, 1).</param>
public sealed record DensityChange(Estimate Ratio, Answer<double> ChanceRose)
{
    private const string Method = "ratio of densities on the log scale, clusters by line, Satterthwaite t";

    /// <summary>Did clump density change from one year to another?</summary>
    /// <param name="before">The earlier year.</param>
    /// <param name="after">The later year of the same pasture or property.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>The ratio and the chance; reasons where a year has no belt, no clump, or one line.</returns>
    /// <remarks>
    /// log D2 − log D1 with the survey variance of each ratio by lines, lines walked in both years as pairs; the error of walkers' steps and spans is added.
    /// Belts measured by other walkers or rules differ by that alone.
    /// </remarks>
    /// <source>Cochran 1977, Sampling Techniques, 3rd ed., chapter 6 (from memory, to be confirmed); limits on the log scale: common practice, no source.</source>
    /// <check>worked-by-hand</check>
    public static DensityChange Between(PastureYear before, PastureYear after, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        ShareRange.RequireLevel(level);
        if (before.PerAcre is not { Value: > 0 } || after.PerAcre is not { Value: > 0 }) return None("years.no_density", level);
        var (first, last) = (Influences(before), Influences(after));
        if (first.Length < 2 || last.Length < 2) return None("years.one_belt", level);
        var errors = LineErrors.Of(first, last);
        var d = Math.Log(after.PerAcre.Value.Value / before.PerAcre.Value.Value);
        var se = Math.Sqrt(errors.OfDifference + before.WalkersError + after.WalkersError);
        if (se < 1e-6) return None("density.no_difference", level);
        var half = Tails.StudentQuantile((1 + level) / 2, errors.Degrees) * se;
        var ratio = new Estimate { Value = Math.Exp(d), Low = Math.Exp(d - half), High = Math.Exp(d + half), Se = Math.Exp(d) * se, Level = level, Method = Method };
        return new DensityChange(ratio, ChanceOfRise.Of(d, se, errors.Degrees));
    }

    private static DensityChange None(string why, double level) => new(Estimate.None(Method, Phrase.Of(why)) with { Level = level }, NoAnswer.Because(why));

    /// <summary>What each line adds to the error of the log density.</summary>
    private static (string? Line, double Influence)[] Influences(PastureYear year)
    {
        var lines = year.Lines.Where(l => l.AreaM2 > 0).ToArray();
        double area = lines.Sum(l => l.AreaM2), clumps = lines.Sum(l => l.Clumps), scale = Math.Sqrt(lines.Length / Math.Max(1.0, lines.Length - 1));
        return [.. lines.Select(l => (l.Line, scale * (l.Clumps - (clumps / area * l.AreaM2)) / clumps))];
    }
}
