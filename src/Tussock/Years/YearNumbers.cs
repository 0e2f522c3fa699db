using Tussock.Words;

namespace Tussock.Years;

/// <summary>Numbers of years as they stand in tables: with their limits, or a dash.</summary>
public static class YearNumbers
{
    /// <summary>A share in percent.</summary>
    public static string Share(Estimate e) => Shown(e, x => Numbers.Percent(x), x => Numbers.PercentNumber(x), "–");

    /// <summary>A difference of shares in points.</summary>
    public static string Points(Estimate e) => Shown(e, x => Numbers.PercentNumber(x), x => Numbers.PercentNumber(x), " … ");

    /// <summary>An amount in whole numbers.</summary>
    public static string Amount(Estimate e) => Shown(e, x => Numbers.Fixed(x, 0), x => Numbers.Fixed(x, 0), "–");

    /// <summary>A ratio.</summary>
    public static string Ratio(Estimate e) => Shown(e, x => Numbers.Fixed(x, 2), x => Numbers.Fixed(x, 2), "–");

    private static string Shown(Estimate e, Func<double, string> number, Func<double, string> limit, string between)
    {
        ArgumentNullException.ThrowIfNull(e);
        if (e.Value is not { } x) return "–";
        return e is { Low: { } low, High: { } high } ? number(x) + " (" + limit(low) + between + limit(high) + ")" : number(x);
    }
}
