using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Years;

/// <summary>All properties of a data file together: what a network of ranches looks like, without a name or a place.</summary>
/// <remarks>Borrows between properties, unlike any verdict of one of them. May be shared between threads.</remarks>
public sealed record Network
{
    /// <summary>Properties, fewest of which there is a network.</summary>
    public const int Fewest = 2;

    private Network()
    {
    }

    /// <summary>Number of properties.</summary>
    public required int Properties { get; init; }

    /// <summary>Nests in all.</summary>
    public required int Nests { get; init; }

    /// <summary>Errors of survival between lines by those of independent nests, over all properties.</summary>
    public required double DesignEffect { get; init; }

    /// <summary>Each year for itself, the earliest first.</summary>
    public required ImmutableArray<NetworkYear> Years { get; init; }

    /// <summary>All years of each property together.</summary>
    public required NetworkYear Together { get; init; }

    /// <summary>Survival over the years, on the log odds; a reason with fewer than three.</summary>
    public required Answer<NetworkTrend> Trend { get; init; }

    /// <summary>Survival of each property over all its years, in ordinal order of their names; for telling a property where it stands.</summary>
    internal ImmutableArray<(string Property, double Survival)> Own { get; private init; } = [];

    /// <summary>Puts the properties of any number of seasons together.</summary>
    /// <param name="years">Years of properties and pastures; only those of whole properties enter.</param>
    /// <returns>The network; a reason with fewer than two properties.</returns>
    /// <remarks>Cost: linear in property-years, and some hundred steps over them for the trend: a second for 5,000.</remarks>
    public static Answer<Network> Of(IEnumerable<PastureYear> years)
    {
        ArgumentNullException.ThrowIfNull(years);
        var all = years.Where(y => y.Pasture is null).OrderBy(y => y.Property, StringComparer.Ordinal).ThenBy(y => y.Label, StringComparer.Ordinal).ToArray();
        var names = all.Select(y => y.Property).Distinct(StringComparer.Ordinal).ToArray();
        if (names.Length < Fewest) return NoAnswer.Because("years.one_property");
        var effect = PropertyNumbers.DesignEffect(all);
        var byYear = all.GroupBy(y => Nameless(y.Label), StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal).ToArray();
        var each = new NetworkYear[byYear.Length + 1];
        Ordered.For(each.Length, i => each[i] = i < byYear.Length ? NetworkYear.Of(byYear[i].Key, byYear[i], effect) : NetworkYear.Of("", all, effect));
        return new Network
        {
            Properties = names.Length,
            Nests = all.Sum(y => y.Counts.Nests),
            DesignEffect = effect,
            Years = [.. each[..^1]],
            Together = each[^1],
            Trend = TrendOf(all, names, effect),
            Own = [.. all.GroupBy(y => y.Property, StringComparer.Ordinal).Select(g => (g.Key, PropertyNumbers.Survival(g, effect))).Where(g => g.Item2 is not null).Select(g => (g.Key, Exponentials.Expit(g.Item2!.Value.Value)))],
        };
    }

    /// <summary>A label of a year as a view without names may show it: a season without a year is called by its name, and that may name land.</summary>
    internal static string Nameless(string label) => label.Length is > 0 and < 10 && label.All(c => char.IsAsciiDigit(c) || c is '-' or '/' or '–') ? label : "–";

    /// <summary>Where a property stands among all, by its survival over all its years: the share of the others below it.</summary>
    /// <returns>A reason where there are too few properties for any of them to be shown beside the others.</returns>
    public Answer<double> PlaceOf(string property)
    {
        if (Own.Length < Synthesis.FewestForSpread) return NoAnswer.Because("years.too_few_to_show", ("fewest", Synthesis.FewestForSpread));
        var mine = Own.Where(o => o.Property == property).Select(o => (double?)o.Survival).FirstOrDefault();
        if (mine is not { } survival) return NoAnswer.Because("years.no_fate");
        return (Own.Count(o => o.Survival < survival) + (0.5 * (Own.Count(o => o.Survival.Equals(survival)) - 1))) / (Own.Length - 1);
    }

    private static Answer<NetworkTrend> TrendOf(PastureYear[] all, string[] names, double effect)
    {
        var rows = new List<(int, int, double, double)>();
        foreach (var group in all.GroupBy(y => (y.Property, y.Label)))
        {
            if (!int.TryParse(group.Key.Label, System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var year)) continue;
            if (PropertyNumbers.Survival(group, effect) is { } survival) rows.Add((Array.BinarySearch(names, group.Key.Property, StringComparer.Ordinal), year, survival.Value, survival.Variance));
        }

        return rows.Count == 0 ? NoAnswer.Because("years.few_years", ("years", 0), ("fewest", YearTrend.Fewest)) : NetworkTrend.Of(rows);
    }
}

/// <summary>One year of a network, or all years together.</summary>
/// <param name="Label">The year as it is called; empty: all years together.</param>
/// <param name="Nests">Nests in all.</param>
/// <param name="Survival">Survival to the end of the trial.</param>
/// <param name="Density">Clumps an acre.</param>
/// <param name="CoverRatio">Survival in other cover divided by that in grass.</param>
/// <param name="Parity">Clumps an acre at which the two survive alike.</param>
public sealed record NetworkYear(string Label, int Nests, Synthesis Survival, Synthesis Density, Synthesis CoverRatio, Synthesis Parity)
{
    /// <summary>Puts together what properties say, each over the years given of it.</summary>
    internal static NetworkYear Of(string label, IEnumerable<PastureYear> years, double designEffect)
    {
        var properties = years.GroupBy(y => y.Property, StringComparer.Ordinal).Select(g => g.ToArray()).ToArray();
        return new NetworkYear(
            label,
            properties.Sum(p => p.Sum(y => y.Counts.Nests)),
            Together(properties, p => PropertyNumbers.Survival(p, designEffect), Exponentials.Expit, "survival of a typical property"),
            Together(properties, PropertyNumbers.Density, Math.Exp, "clumps an acre of a typical property"),
            Together(properties, p => PropertyNumbers.Logs(p.Select(y => y.CoverRatio)), Math.Exp, "survival in other cover by that in grass, typical property"),
            Together(properties, p => PropertyNumbers.Logs(p.Select(y => y.Parity)), Math.Exp, "parity density of a typical property"));
    }

    private static Synthesis Together(PastureYear[][] properties, Func<PastureYear[], (double, double)?> number, Func<double, double> back, string method)
    {
        var numbers = properties.Select(number).OfType<(double, double)>().ToArray();
        return Synthesis.Of(numbers, properties.Length - numbers.Length, back, method);
    }
}
