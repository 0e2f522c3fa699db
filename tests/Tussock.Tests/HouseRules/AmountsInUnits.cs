using System.Text.RegularExpressions;
using Tussock.Pictures;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.HouseRules;

/// <summary>Amounts are said in the units that were chosen, in sentences and on the axes of pictures.</summary>
public sealed partial class AmountsInUnits
{
    private static readonly DensityBar[] Bars = [new("North Draw", new(442, 369, 530)), new("East Pasture", new(120, null, null))];

    [Theory]
    [InlineData("en", "both", "24 suitable clumps counted: 240 an acre (593 a hectare), 95 % interval 180–320 an acre.")]
    [InlineData("en", "us", "24 suitable clumps counted: 240 an acre, 95 % interval 180–320 an acre.")]
    [InlineData("en", "metric", "24 suitable clumps counted: 593 a hectare, 95 % interval 445–791 a hectare.")]
    [InlineData("es", "both", "Matas adecuadas contadas: 24; 240 por acre (593 por hectárea), intervalo del 95 % 180–320 por acre.")]
    [InlineData("es", "us", "Matas adecuadas contadas: 24; 240 por acre, intervalo del 95 % 180–320 por acre.")]
    [InlineData("es", "metric", "Matas adecuadas contadas: 24; 593 por hectárea, intervalo del 95 % 445–791 por hectárea.")]
    public void A_density_of_which_both_are_said(string language, string units, string said) =>
        Assert.Equal(said, In(language, units).Say(Phrase.Of("quick.density", ("clumps", 24.0), ("acre", 240.0), ("low", 180.0), ("high", 320.0))));

    [Theory]
    [InlineData("both", "moved.per_acre", 240.4, "240 clumps/acre")]
    [InlineData("us", "moved.per_acre", 240.4, "240 clumps/acre")]
    [InlineData("metric", "moved.per_acre", 240.4, "594 clumps/hectare")]
    [InlineData("both", "model_report.value.clumps", 35.54, "35.5 an acre")]
    [InlineData("metric", "model_report.value.clumps", 35.54, "87.8 a hectare")]
    [InlineData("both", "technical.length", 0.742, "0.74 m (2.43 ft)")]
    [InlineData("us", "technical.length", 0.742, "2.43 ft")]
    [InlineData("metric", "technical.length", 0.742, "0.74 m")]
    [InlineData("both", "review.metres", 12.0, "12 m")]
    [InlineData("us", "review.metres", 12.0, "39 ft")]
    [InlineData("metric", "review.metres", 12.0, "12 m")]
    [InlineData("both", "review.kilometres", 3000.0, "3 km")]
    [InlineData("us", "review.kilometres", 3000.0, "1.9 mi")]
    [InlineData("us", "review.kilometres", 300_000.0, "186 mi")]
    [InlineData("both", "report.rain_amount", 25.4, "25 mm (1.0 in)")]
    [InlineData("us", "report.rain_amount", 25.4, "1.0 in")]
    [InlineData("metric", "report.rain_amount", 25.4, "25 mm")]
    public void Each_kind_of_amount(string units, string key, double value, string said) =>
        Assert.Equal(said, In("en", units).Say(Phrase.Of(key, ("amount", value), ("value", value), ("metres", value), ("n", value), ("mm", value))));

    [Theory]
    [InlineData("both", "0.742–0.768 m")]
    [InlineData("us", "2.434–2.520 ft")]
    public void A_range_of_lengths(string units, string said) => Assert.Equal(said, In("en", units).Say(Phrase.Of("technical.lengths", ("shortest", 0.742), ("longest", 0.768))));

    [Fact]
    public void A_sentence_inside_another_has_the_same_units() =>
        Assert.Contains("1.9 mi", In("en", "us").Say(Phrase.Of("review.nest_far_from_flag", ("transect", "C1"), ("nest", 1), ("metres", Phrase.Of("review.kilometres", ("n", 3000.0))))), StringComparison.Ordinal);

    [Fact]
    public void A_catalogue_says_both_until_something_else_is_asked_for_and_is_the_same_each_time()
    {
        Assert.Equal(UnitChoice.Both, Catalogue.English.Units);
        foreach (var units in Enum.GetValues<UnitChoice>())
        {
            var words = Catalogue.English.In(units);
            Assert.Equal((units, "en"), (words.Units, words.Language));
            foreach (var again in Enum.GetValues<UnitChoice>()) Assert.Same(Catalogue.English.In(again), words.In(again));
            Assert.Equal(units, UnitWords.Of(units.Token()));
        }

        Assert.Null(UnitWords.Of("furlongs"));
        Assert.Null(UnitWords.Of(""));
    }

    [Theory]
    [InlineData("both", true, true)]
    [InlineData("us", true, false)]
    [InlineData("metric", false, true)]
    public void A_map_has_a_bar_for_each_unit_that_is_said(string units, bool hasUs, bool hasMetric)
    {
        var svg = LandMap.Draw(new MapContent { Nests = [new(new Tussock.Land.Position(27, -98.5), NestMark.Whole)] }, In("en", units));
        Assert.Equal((hasUs, hasMetric), (svg.Contains(" ft</text>", StringComparison.Ordinal), svg.Contains(" m</text>", StringComparison.Ordinal)));
    }

    [Theory]
    [InlineData("both", "suitable clumps an acre", "0 200 400 600", true)]
    [InlineData("us", "suitable clumps an acre", "0 200 400 600", false)]
    [InlineData("metric", "suitable clumps a hectare", "0 500 1000 1500", false)]
    public void An_axis_of_densities_is_round_in_the_unit_that_is_shown(string units, string title, string ticks, bool hasSecond)
    {
        var svg = DensityChart.Draw(Bars, 300, In("en", units));
        Assert.Contains(title, svg, StringComparison.Ordinal);
        Assert.Equal(hasSecond, svg.Contains("per hectare", StringComparison.Ordinal));
        var rows = Text().Matches(svg).GroupBy(t => t.Groups["y"].Value).Select(g => string.Join(' ', g.Select(t => t.Groups["it"].Value)));
        Assert.Contains(ticks, rows);
        Assert.Contains(units == "metric" ? "1092 (912–1310)" : "442 (369–530)", svg, StringComparison.Ordinal);
    }

    [Fact]
    public void A_place_on_an_axis_of_densities_is_the_same_place_in_every_unit()
    {
        var content = new RatioContent("shrub", "grass", [new(90, new(2, 1.5, 2.5), true), new(760, new(0.8, 0.5, 1.1), true)], [90, 760], new(410, 190, 2300), 300);
        string[] drawn = [.. new[] { "us", "metric" }.Select(u => RatioCurve.Draw(content, In("en", u)))];
        Assert.Equal(Lines(drawn[0], "polyline"), Lines(drawn[1], "polyline"));
        Assert.Contains(">1000</text>", drawn[1], StringComparison.Ordinal);
        Assert.DoesNotContain(">1000</text>", drawn[0], StringComparison.Ordinal);
        Assert.Contains("benchmark 741 a hectare", drawn[1], StringComparison.Ordinal);
        Assert.Contains("0–371", SegmentStrip.Draw([new("C1", [120, 400])], 300, In("en", "metric")), StringComparison.Ordinal);
    }

    private static string[] Lines(string svg, string element) => [.. svg.Split('\n').Where(l => l.Contains("<" + element, StringComparison.Ordinal))];

    private static Catalogue In(string language, string units) => Catalogue.Of(language)!.In(UnitWords.Of(units)!.Value);

    [GeneratedRegex("<text x=\"[^\"]*\" y=\"(?<y>[^\"]*)\"[^>]*>(?<it>[0-9.]+)</text>")]
    private static partial Regex Text();
}
