using Tussock.Words;
using Tussock.Years;

namespace Tussock.Pictures;

/// <summary>Survival of a typical property by year, with where half of the properties lie: no property is named.</summary>
public static class NetworkPicture
{
    /// <summary>Draws it as rows: each year, then all together as a triangle.</summary>
    /// <param name="network">The network.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(Network network, Catalogue words, double width = Svg.ColumnWidth)
    {
        ArgumentNullException.ThrowIfNull(network);
        ArgumentNullException.ThrowIfNull(words);
        return ShareChart.Draw(
            words.Say("pictures.network_title"),
            [.. network.Years.Append(network.Together).Select(y => new ShareRow(
                y.Label.Length > 0 ? y.Label : words.Say("years.all"),
                words.Say(Phrase.Of("pictures.network_properties", ("properties", y.Survival.Properties))),
                Dot.Of(y.Survival.Mean),
                y.Label.Length > 0 ? DotShape.Disc : DotShape.Triangle,
                y.Survival.Mean.Why is { } why ? words.Say(why) : ""))],
            null,
            words,
            width);
    }
}
