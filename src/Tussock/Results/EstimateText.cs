using Tussock.Words;

namespace Tussock.Results;

/// <summary>Estimates as cells of tables show them: the number with its limits, or a dash.</summary>
public static class EstimateText
{
    /// <summary>A share in percent.</summary>
    public static string Share(Estimate e) => With(e, x => Numbers.Percent(x), x => Numbers.PercentNumber(x));

    /// <summary>A difference of shares in points; a dash where it has no limits.</summary>
    public static string Points(Estimate e) => e is { Value: not null, Low: not null, High: not null } ? With(e, x => Numbers.PercentNumber(x), x => Numbers.PercentNumber(x), " … ") : "–";

    /// <summary>An amount in whole numbers.</summary>
    public static string Amount(Estimate e) => With(e, x => Numbers.Fixed(x, 0), x => Numbers.Fixed(x, 0));

    /// <summary>A density an acre, in the unit that is shown first.</summary>
    public static string Density(Estimate perAcre, UnitChoice units) => With(perAcre, x => Numbers.Fixed(units.Density(x), 0), x => Numbers.Fixed(units.Density(x), 0));

    /// <summary>A ratio.</summary>
    public static string Ratio(Estimate e) => With(e, x => Numbers.Fixed(x, 2), x => Numbers.Fixed(x, 2));

    /// <summary>A number and its limits, each written as its kind wants it.</summary>
    /// <param name="e">The estimate.</param>
    /// <param name="value">How the number is written.</param>
    /// <param name="limit">How a limit is written.</param>
    /// <param name="between">What stands between the limits.</param>
    public static string With(Estimate e, Func<double, string> value, Func<double, string> limit, string between = "–")
    {
        ArgumentNullException.ThrowIfNull(e);
        ArgumentNullException.ThrowIfNull(value);
        ArgumentNullException.ThrowIfNull(limit);
        return e switch
        {
            { Value: { } x, Low: { } low, High: { } high } => value(x) + " (" + limit(low) + between + limit(high) + ")",
            { Value: { } x } => value(x),
            { Low: { } low, High: { } high } => "– (" + limit(low) + between + limit(high) + ")",
            _ => "–",
        };
    }
}
