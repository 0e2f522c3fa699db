using Tussock.Measures;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>One row of a chart of clump densities.</summary>
/// <param name="Name">Name of the pasture or class.</param>
/// <param name="PerAcre">Clumps per acre and limits.</param>
/// <param name="Shape">Kind of group: disc for all classes together, square for one class.</param>
public sealed record DensityBar(string Name, Dot PerAcre, DotShape Shape = DotShape.Disc);

/// <summary>Clump densities with their intervals against the benchmark: per acre below and per hectare above, or on one axis in the unit that was chosen.</summary>
public static class DensityChart
{
    private const double RowHeight = 19;
    private const double NumberRoom = 92;
    private const double Top = 54;
    private const double UpperAxis = 26;

    /// <summary>Draws the chart.</summary>
    /// <param name="rows">Groups, from the top; none gives a picture that says so.</param>
    /// <param name="benchmarkPerAcre">The benchmark in clumps per acre.</param>
    /// <param name="words">The language, and the units.</param>
    /// <param name="width">Width in points.</param>
    /// <remarks>The axis ends a little above the highest estimate; a whisker that goes on has an arrow head there.</remarks>
    public static string Draw(IReadOnlyList<DensityBar> rows, double benchmarkPerAcre, Catalogue words, double width = Svg.ColumnWidth)
    {
        var units = words.Units;
        var top = units == UnitChoice.Both ? Top : Top - UpperAxis;
        var bottom = top + (Math.Max(1, rows.Count) * RowHeight);
        var svg = new Svg(width, bottom + 32, words.Say("pictures.density_title"), words.Say(Phrase.Of("pictures.density_description", ("groups", rows.Count), ("benchmark", benchmarkPerAcre))));
        var nameRoom = Math.Min(width / 3, rows.Select(r => Svg.TextWidth(r.Name) + Indent(r)).DefaultIfEmpty(0).Max() + 8);
        rows = [.. rows.Select(r => r with { PerAcre = Shown(r.PerAcre, units) })];
        var benchmark = units.Density(benchmarkPerAcre);
        var ticks = Scale.Round(Highest(rows, benchmark));
        var scale = new Scale(0, ticks[^1], nameRoom + 12, width - NumberRoom - 12);
        Axes(svg, scale, ticks, (top, bottom), words);
        if (rows.Count == 0) svg.Text(scale.FromAt + 4, top + 14, words.Say("pictures.no_groups"));
        for (var i = 0; i < rows.Count; i++)
        {
            var y = top + ((i + 0.5) * RowHeight);
            var indent = Indent(rows[i]);
            svg.Text(indent, y + 3.5, Svg.Cut(rows[i].Name, nameRoom - 6 - indent));
            Whiskers.Draw(svg, scale, y, rows[i].PerAcre, rows[i].Shape);
            svg.Text(width - NumberRoom + 4, y + 3.5, Svg.Cut(Rows.Whole(rows[i].PerAcre), NumberRoom - 4, Svg.SmallSize), Svg.SmallSize);
        }

        Rows.Benchmark(svg, scale.At(benchmark), top - 4, bottom, words.Say(Phrase.Of("pictures.benchmark_density", ("value", benchmarkPerAcre))), (scale.FromAt - 20, width));
        return svg.ToString();
    }

    private static Dot Shown(Dot perAcre, UnitChoice units) => new(In(perAcre.Value, units), In(perAcre.Low, units), In(perAcre.High, units));

    private static double? In(double? perAcre, UnitChoice units) => perAcre is { } density ? units.Density(density) : null;

    /// <summary>High enough for every estimate and for limits that are no more than 1.3 times the highest of them.</summary>
    private static double Highest(IReadOnlyList<DensityBar> rows, double benchmark)
    {
        var values = rows.Max(r => r.PerAcre.Value) ?? 0;
        var limits = rows.Max(r => r.PerAcre.High) ?? 0;
        return Math.Max(benchmark * 1.2, Math.Max(values * 1.05, Math.Min(limits, values * 1.3)));
    }

    /// <summary>Classes stand a little to the right, under their pasture.</summary>
    private static double Indent(DensityBar row) => row.Shape == DotShape.Square ? 10 : 0;

    private static void Axes(Svg svg, Scale scale, IReadOnlyList<double> ticks, (double Top, double Bottom) rows, Catalogue words)
    {
        foreach (var tick in ticks)
        {
            svg.Line(scale.At(tick), rows.Top - 4, scale.At(tick), rows.Bottom, Paint.Line(Ink.Grid, 0.5));
            svg.Text(scale.At(tick), rows.Bottom + 12, Numbers.Short(tick), Svg.SmallSize, Anchor.Middle);
        }

        if (words.Units == UnitChoice.Both) Hectares(svg, scale, words);
        svg.Text((scale.FromAt + scale.ToAt) / 2, rows.Bottom + 26, words.Say("pictures.clumps_an_area"), Svg.SmallSize, Anchor.Middle);
    }

    /// <summary>The second axis, above.</summary>
    private static void Hectares(Svg svg, Scale scale, Catalogue words)
    {
        foreach (var tick in Scale.Round(Area.PerHectareFromPerAcre(scale.To)))
        {
            var x = scale.At(tick / Area.PerHectareFromPerAcre(1));
            if (Area.PerHectareFromPerAcre(scale.To) < tick) continue;
            svg.Line(x, Top - 32, x, Top - 28, Paint.Line(Ink.Grid, 0.8));
            svg.Text(x, Top - 35, Numbers.Short(tick), Svg.SmallSize, Anchor.Middle);
        }

        svg.Line(scale.FromAt, Top - 28, scale.ToAt, Top - 28, Paint.Line(Ink.Grid, 0.8));
        svg.Text(scale.ToAt + 18, Top - 35, words.Say("pictures.per_hectare"), Svg.SmallSize);
    }
}
