using System.Collections.Immutable;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>One value of an effect with the survival that a model predicts for it.</summary>
/// <param name="Name">The value in words.</param>
/// <param name="Average">Survival averaged over transects, in [0, 1], with limits.</param>
/// <param name="Typical">Survival on a typical transect, with limits.</param>
/// <param name="Why">What is said where there is none.</param>
public sealed record EffectValue(string Name, Dot Average, Dot Typical, string Why = "");

/// <summary>One effect and its values.</summary>
/// <param name="Heading">The effect in words.</param>
/// <param name="Values">Its values, from the top.</param>
public sealed record EffectShown(string Heading, ImmutableArray<EffectValue> Values);

/// <summary>What the effects of a model do, in survival: for each value a disc averaged over transects and, below it, a square on a typical transect, with whiskers and numbers.</summary>
public static class EffectsChart
{
    private const double HeadHeight = 20;
    private const double RowHeight = 29;
    private const double NumberRoom = 96;
    private const double Top = 22;
    private const double Indent = 8;

    /// <summary>Draws the chart.</summary>
    /// <param name="effects">The effects, from the top; none gives a picture that says so.</param>
    /// <param name="benchmark">The benchmark, in [0, 1]; null: none is drawn.</param>
    /// <param name="days">Days that survival is predicted to.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(IReadOnlyList<EffectShown> effects, double? benchmark, double days, Catalogue words, double width = Svg.ColumnWidth)
    {
        var bottom = Top + Math.Max(HeadHeight, effects.Sum(e => HeadHeight + (e.Values.Length * RowHeight)));
        var svg = new Svg(width, bottom + 34, words.Say(Phrase.Of("model_report.effects_title", ("days", days))), words.Say("model_report.effects_description"));
        var nameRoom = Rows.NameRoom(effects.SelectMany(e => e.Values).Select(v => v.Name), width) + Indent;
        var scale = new Scale(0, 1, nameRoom + 6, width - NumberRoom - 6);
        Rows.PercentAxis(svg, scale, Top - 4, bottom);
        if (benchmark is { } b) Rows.Benchmark(svg, scale.At(b), Top - 4, bottom, words.Say(Phrase.Of("pictures.benchmark", ("value", b))), (0, width));
        if (effects.Count == 0) svg.Text(scale.FromAt + 4, Top + 14, words.Say("pictures.no_groups"));
        var y = Top;
        foreach (var effect in effects)
        {
            Heading(svg, y, effect.Heading, width);
            y += HeadHeight;
            foreach (var value in effect.Values)
            {
                Value(svg, scale, y, value, (nameRoom, width));
                y += RowHeight;
            }
        }

        Key(svg, bottom + 28, words);
        return svg.ToString();
    }

    /// <summary>On paper of its own, so that no grid line runs through the words.</summary>
    private static void Heading(Svg svg, double y, string heading, double width)
    {
        var shown = Svg.Cut(heading, width);
        svg.Rect(0, y + 3, Svg.TextWidth(shown) + 6, 15, new Paint(Ink.Paper));
        svg.Text(0, y + 14, shown, Svg.TextSize, isBold: true);
    }

    private static void Value(Svg svg, Scale scale, double y, EffectValue value, (double Name, double Width) room)
    {
        svg.Text(Indent, y + 13, Svg.Cut(value.Name, room.Name - Indent - 4));
        if (value.Average.Value is null && value.Typical.Value is null)
        {
            svg.Text(scale.FromAt + 4, y + 13, Svg.Cut(value.Why, scale.ToAt - scale.FromAt - 8, Svg.SmallSize), Svg.SmallSize);
            return;
        }

        Whiskers.Draw(svg, scale, y + 9, value.Average, DotShape.Disc);
        Whiskers.Draw(svg, scale, y + 20, value.Typical, DotShape.Square);
        svg.Text(room.Width - NumberRoom + 2, y + 12, Rows.Percent(value.Average), Svg.SmallSize);
        svg.Text(room.Width - NumberRoom + 2, y + 23, Rows.Percent(value.Typical), Svg.SmallSize);
    }

    private static void Key(Svg svg, double y, Catalogue words)
    {
        var scale = new Scale(0, 1, 0, 20);
        var average = words.Say("model_report.average_over_transects");
        Whiskers.Draw(svg, scale, y - 3, new Dot(0.5, 0, 1), DotShape.Disc);
        svg.Text(26, y, average, Svg.SmallSize);
        var next = 26 + Svg.TextWidth(average, Svg.SmallSize) + 18;
        Whiskers.Draw(svg, scale with { FromAt = next, ToAt = next + 20 }, y - 3, new Dot(0.5, 0, 1), DotShape.Square);
        svg.Text(next + 26, y, words.Say("model_report.typical_transect"), Svg.SmallSize);
    }
}
