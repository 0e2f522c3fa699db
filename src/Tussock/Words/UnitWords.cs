using Tussock.Measures;

namespace Tussock.Words;

/// <summary>Amounts in the units that were chosen: the formats of slots that hold a density, a length or rain.</summary>
/// <remarks>What goes into a slot is what is stored (clumps an acre, metres, kilometres, millimetres of rain), so that a sentence is written once for all units.</remarks>
public static class UnitWords
{
    /// <summary>Whether US units are said, alone or beside the others.</summary>
    public static bool SaysUs(this UnitChoice units) => units != UnitChoice.Metric;

    /// <summary>Whether metric units are said, alone or beside the others.</summary>
    public static bool SaysMetric(this UnitChoice units) => units != UnitChoice.Us;

    /// <summary>A density in the unit that is said first: a hectare where metric units were chosen, else an acre.</summary>
    /// <param name="units">The units.</param>
    /// <param name="perAcre">The density an acre.</param>
    public static double Density(this UnitChoice units, double perAcre) => units == UnitChoice.Metric ? Area.PerHectareFromPerAcre(perAcre) : perAcre;

    /// <summary>The choice as a form or a cookie says it.</summary>
    public static string Token(this UnitChoice units) => units switch { UnitChoice.Us => "us", UnitChoice.Metric => "metric", _ => "both" };

    /// <summary>The choice of this token; null when it is none.</summary>
    public static UnitChoice? Of(string token)
    {
        foreach (var units in Enum.GetValues<UnitChoice>()) if (units.Token() == token) return units;
        return null;
    }

    /// <summary>What a slot without an argument says: "acre", "an acre"; null for a word that is none.</summary>
    internal static string? Name(Catalogue words, string format) => format switch
    {
        "area" => words.Say(words.Units == UnitChoice.Metric ? "units.hectare" : "units.acre"),
        "an_area" => words.Say(words.Units == UnitChoice.Metric ? "units.a_hectare" : "units.an_acre"),
        _ => null,
    };

    /// <summary>An amount with its unit; null for a format that is none. A digit at the end of the format is the count of decimals.</summary>
    internal static string? Amount(Catalogue words, double value, string format)
    {
        var (kind, decimals) = format is [.. var name, >= '0' and <= '9'] ? (name, format[^1] - '0') : (format, 0);
        return kind switch
        {
            "density_number" => Numbers.Fixed(words.Units.Density(value), decimals),
            "density" => Numbers.Fixed(words.Units.Density(value), decimals) + " " + Name(words, "an_area"),
            "density_digits" => Numbers.ThreeDigits(words.Units.Density(value)) + " " + Name(words, "an_area"),
            "densities" => SideBySide(words, UnitChoice.Us, UnitChoice.Metric, w => Amount(w, value, "density")!),
            "length_number" => Numbers.Fixed(words.Units == UnitChoice.Us ? Length.Feet(value) : value, decimals),
            "length" => Amount(words, value, "length_number" + Numbers.Whole(decimals)) + " " + words.Say(words.Units == UnitChoice.Us ? "units.feet" : "units.metres"),
            "lengths" => SideBySide(words, UnitChoice.Metric, UnitChoice.Us, w => Amount(w, value, "length" + Numbers.Whole(decimals))!),
            "distance" => words.Units == UnitChoice.Us ? Miles(words, Length.Miles(value)) : Numbers.Short(value / 1000) + " " + words.Say("units.kilometres"),
            "rain" => SideBySide(words, UnitChoice.Metric, UnitChoice.Us, w => w.Units == UnitChoice.Us ? Numbers.Fixed(Length.Inches(value / 1000), 1) + " " + w.Say("units.inches") : Numbers.Fixed(value, 0) + " " + w.Say("units.millimetres")),
            _ => null,
        };
    }

    private static string Miles(Catalogue words, double miles) => Numbers.Fixed(miles, miles < 10 ? 1 : 0) + " " + words.Say("units.miles");

    /// <summary>One unit, or one with the other in brackets.</summary>
    private static string SideBySide(Catalogue words, UnitChoice first, UnitChoice second, Func<Catalogue, string> said) =>
        words.Units == UnitChoice.Both ? said(words.In(first)) + " (" + said(words.In(second)) + ")" : said(words);
}
