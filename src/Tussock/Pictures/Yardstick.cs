using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>A range that others published, or that a method gives.</summary>
/// <param name="Name">What it is and where it comes from, in a few words.</param>
/// <param name="Low">Lower end, in [0, 1].</param>
/// <param name="High">Upper end, in [0, 1].</param>
public sealed record PublishedRange(string Name, double Low, double High);

/// <summary>A strip from 0 to 100 %: this group's interval, the benchmark, and what others have found.</summary>
public static class Yardstick
{
    private const double RowHeight = 19;
    private const double Top = 24;

    /// <summary>Draws the strip.</summary>
    /// <param name="name">Name of the group.</param>
    /// <param name="share">Its share and limits, in [0, 1].</param>
    /// <param name="benchmark">The benchmark, in [0, 1].</param>
    /// <param name="published">Ranges to compare with; none is fine.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    public static string Draw(string name, Dot share, double benchmark, IReadOnlyList<PublishedRange> published, Catalogue words, double width = Svg.ColumnWidth)
    {
        var bottom = Top + ((1 + published.Count) * RowHeight);
        var svg = new Svg(width, bottom + 20, words.Say(Phrase.Of("pictures.yardstick_title", ("name", name))), name + ": " + Rows.Percent(share));
        var nameRoom = Math.Min(width * 0.5, Rows.NameRoom(published.Select(p => p.Name).Append(name), width * 1.5));
        var scale = new Scale(0, 1, nameRoom + 8, width - 16);
        Rows.PercentAxis(svg, scale, Top - 4, bottom);
        svg.Text(0, Top + 13, Svg.Cut(name, nameRoom - 6), Svg.TextSize, isBold: true);
        Whiskers.Draw(svg, scale, Top + 9.5, share, DotShape.Disc);
        for (var i = 0; i < published.Count; i++)
        {
            var (range, y) = (published[i], Top + ((i + 1) * RowHeight));
            svg.Text(0, y + 13, Svg.Cut(range.Name, nameRoom - 6, Svg.SmallSize), Svg.SmallSize);
            svg.Rect(scale.At(range.Low), y + 4, Math.Max(3, scale.At(range.High) - scale.At(range.Low)), 11, new Paint(Ink.Unknown, Ink.Grid, 0.9));
        }

        Rows.Benchmark(svg, scale.At(benchmark), Top - 4, bottom, words.Say(Phrase.Of("pictures.benchmark", ("value", benchmark))), (0, width));
        return svg.ToString();
    }
}
