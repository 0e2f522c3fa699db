using System.Text;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>Where a text stands to its point.</summary>
public enum Anchor
{
    /// <summary>It begins there.</summary>
    Start,

    /// <summary>Its middle is there.</summary>
    Middle,

    /// <summary>It ends there.</summary>
    End,
}

/// <summary>How a shape is filled and lined. No colour means none.</summary>
/// <param name="Fill">Colour of the area; null: empty.</param>
/// <param name="Stroke">Colour of the line; null: no line.</param>
/// <param name="Width">Width of the line in points.</param>
/// <param name="Dash">Lengths of dash and gap in points, for example "4 3"; null: unbroken.</param>
/// <param name="Opacity">Opacity of the area, in [0, 1].</param>
public readonly record struct Paint(string? Fill, string? Stroke = null, double Width = 1, string? Dash = null, double Opacity = 1)
{
    /// <summary>A line without area.</summary>
    public static Paint Line(string colour, double width = 1, string? dash = null) => new(null, colour, width, dash);
}

/// <summary>Writes one picture as SVG text: shapes and words, escaped, with fixed decimals; no scripts, no style sheets, no ids, nothing from outside.</summary>
/// <remarks>
/// Units are points (1/72 inch), so a picture is as large on paper as it is drawn; pages may scale it by its view box. Fonts and the colour
/// of words are those of the page. Colours are attributes and hatching is drawn line by line, so pictures stand beside each other in one page
/// under a strict content security policy. Coordinates have one decimal: a tenth of a point is below what print shows. Belongs to one thread.
/// </remarks>
public sealed class Svg
{
    /// <summary>Width of a page's column in points: 180 mm.</summary>
    public const double ColumnWidth = 510;

    /// <summary>Usual size of words in points.</summary>
    public const double TextSize = 10;

    /// <summary>Size of words on axes and in keys, in points.</summary>
    public const double SmallSize = 8.5;

    private readonly StringBuilder body = new();
    private readonly double width, height;

    /// <summary>A picture.</summary>
    /// <param name="width">Width in points, above 0.</param>
    /// <param name="height">Height in points, above 0.</param>
    /// <param name="title">What it is, for those who hear it.</param>
    /// <param name="description">What it shows, in a sentence; empty: nothing more than the title.</param>
    public Svg(double width, double height, string title, string description = "")
    {
        if (!(width > 0 && height > 0)) throw new ArgumentException("A picture has width and height.");
        (this.width, this.height) = (width, height);
        body.Append("<title>").Append(Escaped(title)).Append("</title>\n");
        if (description.Length > 0) body.Append("<desc>").Append(Escaped(description)).Append("</desc>\n");
    }

    /// <summary>About how wide a text is, in points: enough to keep words apart, whatever common font the page has.</summary>
    /// <remarks>Sums rough widths of letters in three groups, on the wide side for common sans-serif fonts.</remarks>
    public static double TextWidth(string text, double size = TextSize)
    {
        var em = 0.0;
        foreach (var c in text) em += c is 'i' or 'j' or 'l' or 't' or 'f' or 'I' or '.' or ',' or ':' or '\'' or '|' or ' ' or '(' or ')' ? 0.32 : c is 'm' or 'w' or 'M' or 'W' or '%' or '@' or '—' ? 0.9 : char.IsUpper(c) ? 0.68 : 0.57;
        return em * size;
    }

    /// <summary>The text cut to a width, with an ellipsis when something is left out.</summary>
    public static string Cut(string text, double room, double size = TextSize)
    {
        if (TextWidth(text, size) <= room) return text;
        var end = text.Length;
        while (end > 1 && TextWidth(text[..end], size) + size > room) end--;
        return text[..end].TrimEnd() + "…";
    }

    /// <summary>A straight line.</summary>
    public void Line(double x1, double y1, double x2, double y2, Paint paint) =>
        Add("<line x1=\"", N(x1), "\" y1=\"", N(y1), "\" x2=\"", N(x2), "\" y2=\"", N(y2), "\"", Painted(paint), "/>");

    /// <summary>A rectangle; one without width or height is left out.</summary>
    public void Rect(double x, double y, double wide, double high, Paint paint)
    {
        if (wide > 0 && high > 0) Add("<rect x=\"", N(x), "\" y=\"", N(y), "\" width=\"", N(wide), "\" height=\"", N(high), "\"", Painted(paint), "/>");
    }

    /// <summary>An ellipse about its centre.</summary>
    public void Ellipse(double x, double y, double radiusX, double radiusY, Paint paint) =>
        Add("<ellipse cx=\"", N(x), "\" cy=\"", N(y), "\" rx=\"", N(radiusX), "\" ry=\"", N(radiusY), "\"", Painted(paint), "/>");

    /// <summary>A line through points, closed or not.</summary>
    public void Points(IEnumerable<(double X, double Y)> points, bool isClosed, Paint paint) =>
        Add(isClosed ? "<polygon points=\"" : "<polyline points=\"", string.Join(' ', points.Select(p => N(p.X) + "," + N(p.Y))), "\"", Painted(paint), "/>");

    /// <summary>A half ellipse below a level line: a bowl.</summary>
    public void Bowl(double x, double y, double radiusX, double radiusY, Paint paint) =>
        Add("<path d=\"M", N(x - radiusX), " ", N(y), " A", N(radiusX), " ", N(radiusY), " 0 0 0 ", N(x + radiusX), " ", N(y), " Z\"", Painted(paint), "/>");

    /// <summary>Words.</summary>
    /// <param name="x">Their point.</param>
    /// <param name="y">Base line.</param>
    /// <param name="text">The words.</param>
    /// <param name="size">Size in points.</param>
    /// <param name="anchor">How they stand to their point.</param>
    /// <param name="colour">Colour; null: that of the page.</param>
    /// <param name="isBold">Whether bold.</param>
    public void Text(double x, double y, string text, double size = TextSize, Anchor anchor = Anchor.Start, string? colour = null, bool isBold = false)
    {
        if (text.Length == 0) return;
        var where = anchor switch { Anchor.Middle => " text-anchor=\"middle\"", Anchor.End => " text-anchor=\"end\"", _ => "" };
        Add("<text x=\"", N(x), "\" y=\"", N(y), "\" font-size=\"", N(size), "\"", where, isBold ? " font-weight=\"bold\"" : "", " fill=\"", colour ?? "currentColor", "\">", Escaped(text), "</text>");
    }

    /// <summary>Slanting lines inside a rectangle: a pattern that grey print keeps.</summary>
    /// <param name="x">Left.</param>
    /// <param name="y">Top.</param>
    /// <param name="wide">Width.</param>
    /// <param name="high">Height.</param>
    /// <param name="gap">Distance between lines along the edges, in points.</param>
    /// <param name="paint">The line.</param>
    public void Hatch(double x, double y, double wide, double high, double gap, Paint paint)
    {
        // Lines u + v = s in the rectangle's own coordinates, cut at its edges.
        for (var s = gap; s < wide + high; s += gap)
        {
            var (u1, u2) = (Math.Max(0, s - high), Math.Min(wide, s));
            if (u2 - u1 > 0.05) Line(x + u1, y + s - u1, x + u2, y + s - u2, paint);
        }
    }

    /// <summary>The picture as text.</summary>
    public override string ToString() =>
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 " + N(width) + " " + N(height) + "\" width=\"" + N(width) + "pt\" height=\"" + N(height) + "pt\">\n" + body + "</svg>\n";

    private void Add(params ReadOnlySpan<string> parts)
    {
        foreach (var part in parts) body.Append(part);
        body.Append('\n');
    }

    private static string N(double x) => double.IsFinite(x) ? Numbers.Fixed(x, 1).TrimEnd('0').TrimEnd('.') : throw new ArgumentException("A picture has finite places only.");

    private static string Painted(Paint paint) =>
        " fill=\"" + (paint.Fill ?? "none") + "\"" + (paint is { Fill: not null, Opacity: < 1 } ? " fill-opacity=\"" + Numbers.Short(paint.Opacity) + "\"" : "")
        + (paint.Stroke is null ? "" : " stroke=\"" + paint.Stroke + "\" stroke-width=\"" + Numbers.Short(paint.Width) + "\"" + (paint.Dash is null ? "" : " stroke-dasharray=\"" + paint.Dash + "\""));

    /// <summary>Text for XML; characters that XML cannot hold become a blank.</summary>
    private static string Escaped(string text)
    {
        var safe = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            safe.Append(rune.Value switch
            {
                '&' => "&amp;",
                '<' => "&lt;",
                '>' => "&gt;",
                '"' => "&quot;",
                < 0x20 or 0xFFFE or 0xFFFF => " ",
                _ => rune.ToString(),
            });
        }

        return safe.ToString();
    }
}
