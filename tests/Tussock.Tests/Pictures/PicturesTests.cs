using System.Globalization;
using System.Xml.Linq;
using Tussock.Evidence;
using Tussock.Pictures;
using Tussock.Survival;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Pictures;

public class PicturesTests
{
    /// <summary>Set this variable to 1 to write the expected files again; look at each before committing it.</summary>
    private const string Switch = "TUSSOCK_WRITE_EXPECTED";

    public static TheoryData<string> Ordinary => [.. Gallery.Ordinary.Keys];

    public static TheoryData<string> All => [.. Gallery.Ordinary.Keys, .. Gallery.Extreme.Keys];

    [Theory]
    [MemberData(nameof(Ordinary))]
    public void A_picture_is_the_same_text_as_the_one_that_was_looked_at(string name)
    {
        var path = Path.Combine(Checks.Folder(".."), "Tussock.Tests", "Pictures", "Expected", name + ".svg");
        var drawn = Gallery.Ordinary[name]();
        if (Environment.GetEnvironmentVariable(Switch) == "1") File.WriteAllText(path, drawn);
        Assert.Equal(File.ReadAllText(path), drawn);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void A_picture_is_well_formed_finite_and_says_what_it_is(string name)
    {
        var svg = Drawn(name);
        var root = Parsed(svg);
        Assert.DoesNotContain("NaN", svg, StringComparison.Ordinal);
        Assert.DoesNotContain("Infinity", svg, StringComparison.Ordinal);
        Assert.Equal("img", root.Attribute("role")!.Value);
        Assert.NotEqual("", root.Elements().First(e => e.Name.LocalName == "title").Value);
    }

    [Theory]
    [MemberData(nameof(All))]
    public void A_picture_brings_no_script_no_style_sheet_no_id_and_nothing_from_outside(string name)
    {
        var root = Parsed(Drawn(name));
        Assert.All(root.DescendantsAndSelf(), e => Assert.DoesNotContain(e.Name.LocalName, (string[])["script", "style", "image", "use", "a", "foreignObject"]));
        Assert.All(root.DescendantsAndSelf().Attributes(), a => Assert.DoesNotContain(a.Name.LocalName, (string[])["id", "style", "href", "class", "onload"]));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void No_words_lie_over_other_words_or_outside_the_picture(string name)
    {
        var root = Parsed(Drawn(name));
        var boxes = Boxes(root);
        var size = root.Attribute("viewBox")!.Value.Split(' ').Select(t => double.Parse(t, CultureInfo.InvariantCulture)).ToArray();
        foreach (var box in boxes) Assert.True(box.Left >= -3 && box.Right <= size[2] + 3 && box.Bottom <= size[3] + 1, box + " lies outside");
        for (var i = 0; i < boxes.Count; i++)
        {
            for (var j = Math.Max(0, i - 60); j < i; j++) Assert.False(boxes[i].Covers(boxes[j]), boxes[i] + " lies over " + boxes[j]);
        }
    }

    public static TheoryData<string, string> Signs => [.. SignCatalogue.Standard.Signs.SelectMany(s => s.Values.Select(v => (s.Sign, v)))];

    [Theory]
    [MemberData(nameof(Signs))]
    public void Every_value_of_a_sign_is_drawn_and_no_two_alike(string sign, string value)
    {
        var known = SignCatalogue.Standard.Signs.Single(s => s.Sign == sign);
        var svg = SignPicture.Of(known, value, Catalogue.English)!;
        Assert.Equal("img", Parsed(svg).Attribute("role")!.Value);
        Assert.DoesNotContain("NaN", svg, StringComparison.Ordinal);
        Assert.All(known.Values.Where(v => v != value), v => Assert.NotEqual(Shapes(svg), Shapes(SignPicture.Of(known, v, Catalogue.English)!)));
        static string Shapes(string text) => text[text.IndexOf("</title>", StringComparison.Ordinal)..];
    }

    [Fact]
    public void A_value_of_a_region_s_own_has_no_picture() => Assert.Null(SignPicture.Of(SignCatalogue.Standard.Signs[0], "blue", Catalogue.English));

    [Fact]
    public void The_board_draws_a_nest_for_each_nest()
    {
        var root = Parsed(NestBoard.Draw([new("1", [NestMark.Whole, NestMark.Whole, NestMark.Eaten]), new("2", [NestMark.OtherLoss])], Catalogue.English));
        var bowls = root.Descendants().Count(e => e.Name.LocalName == "path");
        Assert.Equal(4 + 3, bowls);
    }

    [Fact]
    public void A_place_that_is_not_finite_is_refused() =>
        Assert.Throws<ArgumentException>(() => new Svg(10, 10, "x").Line(0, 0, double.NaN, 1, Paint.Line(Ink.Dark)));

    [Fact]
    public void Hatching_stays_inside_its_rectangle()
    {
        var svg = new Svg(100, 100, "x");
        svg.Hatch(10, 20, 30, 12, 5, Paint.Line(Ink.Dark));
        var lines = Parsed(svg.ToString()).Descendants().Where(e => e.Name.LocalName == "line").ToArray();
        Assert.NotEmpty(lines);
        Assert.All(lines, l =>
        {
            foreach (var x in (string[])["x1", "x2"]) Assert.InRange(Value(l, x), 10, 40);
            foreach (var y in (string[])["y1", "y2"]) Assert.InRange(Value(l, y), 20, 32);
        });
    }

    [Fact]
    public void Flat_pieces_of_a_curve_lie_between_its_innermost_intervals()
    {
        var curve = new SurvivalCurve { Left = [0, 14], Right = [14, 28], Mass = [0.2, 0.3], Nests = 10, LogLikelihood = -1, Diary = new CurveDiary(1, 0, 0, CurveStop.KuhnTucker) };
        Assert.Equal([new(0, 0, 1), new(14, 14, 0.8), new(28, 30, 0.5)], CurveChart.PiecesOf(curve, 30).Select(p => p with { Survival = Math.Round(p.Survival, 12) }));
    }

    [Theory]
    [InlineData(528, new double[] { 0, 200, 400, 600 })]
    [InlineData(1, new double[] { 0, 0.2, 0.4, 0.6, 0.8, 1 })]
    public void Axes_have_round_numbers(double highest, double[] ticks) => Assert.Equal(ticks, Scale.Round(highest).Select(t => Math.Round(t, 9)));

    [Fact]
    public void Words_too_long_for_their_room_are_cut() => Assert.True(Svg.TextWidth(Svg.Cut("a pasture with a very long name indeed", 80)) <= 80);

    private static string Drawn(string name) => (Gallery.Ordinary.TryGetValue(name, out var ordinary) ? ordinary : Gallery.Extreme[name])();

    private static XElement Parsed(string svg) => XDocument.Parse(svg).Root!;

    private static double Value(XElement element, string name) => double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);

    private static List<Box> Boxes(XElement root) =>
    [
        .. root.Descendants().Where(e => e.Name.LocalName == "text").Select(t =>
        {
            // A little narrower than the picture's own rough widths, which lie on the wide side.
            var (size, wide) = (Value(t, "font-size"), Svg.TextWidth(t.Value, Value(t, "font-size")) * 0.9);
            var left = Value(t, "x") - (t.Attribute("text-anchor")?.Value switch { "middle" => wide / 2, "end" => wide, _ => 0 });
            return new Box(left, left + wide, Value(t, "y") - (0.7 * size), Value(t, "y"), t.Value);
        }),
    ];

    private sealed record Box(double Left, double Right, double Top, double Bottom, string Text)
    {
        internal bool Covers(Box other) => Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;
    }
}
