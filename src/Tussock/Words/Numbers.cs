using System.Globalization;

namespace Tussock.Words;

/// <summary>Numbers and dates as people read them; the only place that formats them.</summary>
public static class Numbers
{
    /// <summary>A share in [0, 1] as percent: "54 %".</summary>
    /// <param name="share">Share in [0, 1].</param>
    /// <param name="decimals">Decimals of the percentage.</param>
    public static string Percent(double share, int decimals = 0) => PercentNumber(share, decimals) + " %";

    /// <summary>A chance that is neither certain nor impossible, as percent: "54 %", "> 99 %", "&lt; 1 %".</summary>
    public static string Chance(double chance) => chance > 0.99 ? "> 99 %" : chance < 0.01 ? "< 1 %" : Percent(chance);

    /// <summary>A share in [0, 1] as a percentage without its sign, for ranges such as "16–88 %".</summary>
    public static string PercentNumber(double share, int decimals = 0) => Fixed(100 * share, decimals);

    /// <summary>A range of shares: "16–88 %".</summary>
    public static string PercentRange(double low, double high, int decimals = 0) => PercentNumber(low, decimals) + "–" + Percent(high, decimals);

    /// <summary>A number with a fixed count of decimals and no group signs; −0 is 0.</summary>
    public static string Fixed(double x, int decimals)
    {
        var text = x.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return text.StartsWith('-') && text.AsSpan().IndexOfAnyInRange('1', '9') < 0 ? text[1..] : text;
    }

    /// <summary>A number with at most four significant decimals, as short as it is exact enough for people.</summary>
    public static string Short(double x) => x.ToString("0.####", CultureInfo.InvariantCulture);

    /// <summary>Three digits, or all those before the decimal point.</summary>
    public static string ThreeDigits(double x) => Math.Abs(x) >= 100 ? Fixed(x, 0) : Short(Math.Round(x, Math.Abs(x) >= 10 ? 1 : 2));

    /// <summary>A day since set-out: to a tenth, without a decimal where it is whole.</summary>
    public static string Day(double day) => Math.Round(day, 1).ToString("0.#", CultureInfo.InvariantCulture);

    /// <summary>A whole number, with thin groups from ten thousand on.</summary>
    public static string Whole(long x) => Math.Abs(x) < 10_000 ? x.ToString(CultureInfo.InvariantCulture) : x.ToString("N0", CultureInfo.InvariantCulture);

    /// <summary>A date that can't be misread: "3 June 2024", "3 de junio de 2024".</summary>
    public static string Date(DateOnly date, Catalogue words) =>
        words.Say(Phrase.Of("month.date", ("day", date.Day.ToString(CultureInfo.InvariantCulture)), ("month", words.Template("month." + date.Month.ToString(CultureInfo.InvariantCulture))), ("year", date.Year.ToString(CultureInfo.InvariantCulture))));
}
