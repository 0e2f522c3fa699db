namespace Tussock.Pictures;

/// <summary>The things that drawn signs are made of, in black lines on white. Places and sizes in points.</summary>
internal sealed class SignPen(Svg svg)
{
    private const double Thick = 1.3;
    private static readonly Paint Outline = new(Ink.Paper, Ink.Dark, Thick), Thin = Paint.Line(Ink.Dark, 0.8), Black = new(Ink.Dark);

    /// <summary>An egg lying on its side, large end to the left.</summary>
    internal void Egg(double x, double y, double half) => svg.Points(EggOutline(x, y, half, 0, 48), true, Outline);

    /// <summary>A hole in a shell.</summary>
    internal void Hole(double x, double y, double radius)
    {
        var rim = Enumerable.Range(0, 14).Select(i => (x + (radius * (i % 2 == 0 ? 1 : 0.78) * Math.Cos(i * Math.Tau / 14)), y + (radius * (i % 2 == 0 ? 1 : 0.78) * Math.Sin(i * Math.Tau / 14))));
        svg.Points(rim, true, Black);
    }

    /// <summary>A piece bitten out of an outline: white, with a scalloped black edge.</summary>
    internal void Bite(double x, double y, double radius)
    {
        svg.Ellipse(x, y, radius, radius, new Paint(Ink.Paper));
        svg.Points(Enumerable.Range(0, 9).Select(i => (i, a: (0.42 + (0.085 * i)) * Math.PI)).Select(p => (x + ((radius - (p.i % 2 * 2)) * Math.Cos(p.a)), y + ((radius - (p.i % 2 * 2)) * Math.Sin(p.a)))), false, Paint.Line(Ink.Dark, Thick));
    }

    /// <summary>Half an egg's shell with a ragged rim, hollow to the right, or to the left when turned.</summary>
    internal void HalfShell(double x, double y, double half, bool turned = false)
    {
        var side = turned ? -1 : 1;
        var outside = Enumerable.Range(0, 13).Select(i => (90 + (15 * i)) * Math.PI / 180).Select(a => (x + (side * half * Math.Cos(a)), y + (half * 0.8 * Math.Sin(a))));
        double[] rim = [0, 0.28, 0.02, 0.3, 0.05, 0.26, 0];
        var edge = rim.Select((out_, i) => (x + (side * half * out_), y - (half * 0.8) + (half * 1.6 * i / (rim.Length - 1))));
        svg.Points([.. outside, .. edge], true, Outline);
    }

    /// <summary>A shell open above, with teeth of a height along its rim; 0 is a clean cut.</summary>
    internal void OpenShell(double x, double y, double half, double teeth)
    {
        var below = Enumerable.Range(0, 19).Select(i => i * Math.PI / 18).Select(a => (x + (half * Math.Cos(a)), y + (half * Math.Sin(a) * 0.95)));
        var rim = Enumerable.Range(1, 11).Select(i => (x - half + (2 * half * i / 12), y - (i % 2 == 0 ? 0 : teeth) - (i % 3 == 0 ? teeth / 2 : 0)));
        svg.Points([.. below, .. rim], true, Outline);
        if (teeth == 0) svg.Ellipse(x, y, half, half * 0.25, Outline);
    }

    /// <summary>A chip of shell; its shape follows from its place.</summary>
    internal void Chip(double x, double y, double size)
    {
        var turn = ((x * 7) + (y * 13)) % 6;
        double[] reach = [1, 0.62, 0.9, 0.55, 0.8];
        svg.Points(reach.Select((r, i) => (x + (size * 0.62 * r * Math.Cos(turn + (i * Math.Tau / 5))), y + (size * 0.5 * r * Math.Sin(turn + (i * Math.Tau / 5))))), true, new Paint(Ink.Paper, Ink.Dark, size < 3 ? 0.7 : 1));
    }

    internal void Bowl(double x, double y, double radius, double deep = 0)
    {
        svg.Bowl(x, y, radius, deep > 0 ? deep : radius * 0.6, Outline);
        for (var i = -1; i <= 1; i++) svg.Line(x + (i * radius * 0.5), y + 2, x + (i * radius * 0.4), y + (radius * 0.35), Thin);
    }

    /// <summary>Not there: a cross over the place, white around it so that it stands out from what it crosses.</summary>
    internal void Absent(double x, double y)
    {
        foreach (var (colour, width) in (ReadOnlySpan<(string, double)>)[(Ink.Paper, 6), (Ink.Dark, 2.4)])
        {
            svg.Line(x - 11, y - 11, x + 11, y + 11, Paint.Line(colour, width));
            svg.Line(x - 11, y + 11, x + 11, y - 11, Paint.Line(colour, width));
        }
    }

    internal void Spot(double x, double y, double radius) => svg.Ellipse(x, y, radius, radius, Black);

    /// <summary>Spilt contents: pale, with a wavy edge.</summary>
    internal void Wet(double x, double y, double wide, double high) =>
        svg.Points(Enumerable.Range(0, 36).Select(i => i * Math.Tau / 36).Select(a => (x + (wide * (1 + (0.12 * Math.Sin(5 * a))) * Math.Cos(a)), y + (high * (1 + (0.12 * Math.Cos(4 * a))) * Math.Sin(a)))), true, new Paint(Ink.Unknown, Ink.Dark, 0.9));

    internal void Drop(double x, double y) => svg.Points([(x, y - 6), (x + 4, y + 1), (x + 2, y + 5), (x - 2, y + 5), (x - 4, y + 1)], true, Outline);

    internal void Grass(double x, double foot)
    {
        foreach (var lean in (ReadOnlySpan<double>)[-5, -2, 1.5, 5]) svg.Line(x + (lean * 0.3), foot, x + lean, foot - 12, Paint.Line(Ink.Dark, 1.1));
    }

    /// <summary>A tuft pulled out, lying.</summary>
    internal void Tuft(double x, double y)
    {
        foreach (var lean in (ReadOnlySpan<double>)[-4, -1, 2, 5]) svg.Line(x - 6, y, x + 7, y + lean, Paint.Line(Ink.Dark, 1.1));
        svg.Points([(x - 6, y), (x - 9, y - 2), (x - 8, y), (x - 10, y + 1), (x - 6, y)], false, Thin);
    }

    /// <summary>Turned earth: a furrow with a ridge.</summary>
    internal void Furrow(double x, double y)
    {
        svg.Points([(x, y), (x + 4, y + 9), (x + 10, y + 9), (x + 15, y)], false, Paint.Line(Ink.Dark, Thick));
        foreach (var (dx, dy) in (ReadOnlySpan<(double, double)>)[(1, -3), (6, -1), (12, -4)]) svg.Ellipse(x + dx, y + dy, 2.2, 1.7, Black);
    }

    internal void Ground(double y, double from = 4, double to = 56) => svg.Line(from, y, to, y, Paint.Line(Ink.Dark, 1));

    internal void Mound(double x, double y, double half) => svg.Points(Enumerable.Range(0, 9).Select(i => (x - half + (half * i / 4), y - (6 * Math.Sin(Math.PI * i / 8)))), true, new Paint(Ink.Unknown, Ink.Dark, 1));

    /// <summary>A dashed way with a point at its end.</summary>
    internal void Path(double x1, double y1, double x2, double y2)
    {
        Dashed(x1, y1, x2, y2);
        svg.Points([(x2, y2), (x2 - 5, y2 - 5), (x2 - 4, y2 + 2)], true, Black);
    }

    internal void Dashed(double x1, double y1, double x2, double y2) => svg.Line(x1, y1, x2, y2, Paint.Line(Ink.Dark, 1, "3 2"));

    /// <summary>A measured length with its words above.</summary>
    internal void Measure(double x, double y, double length, string text)
    {
        svg.Line(x, y, x + length, y, Thin);
        svg.Line(x, y - 2, x, y + 2, Thin);
        svg.Line(x + length, y - 2, x + length, y + 2, Thin);
        svg.Text(x + (length / 2), y - 2.5, text, 7.5, Anchor.Middle, Ink.Dark);
    }

    /// <summary>A paw of nobody in particular: a pad and four toes.</summary>
    internal void Track(double x, double y, double scale)
    {
        svg.Ellipse(x, y, 6 * scale, 4.5 * scale, Black);
        foreach (var (dx, dy) in (ReadOnlySpan<(double, double)>)[(-7, -5), (-2.6, -8.5), (2.6, -8.5), (7, -5)]) svg.Ellipse(x + (dx * scale), y + (dy * scale), 1.9 * scale, 2.6 * scale, Black);
    }

    internal void Scat(double x, double y)
    {
        svg.Ellipse(x, y, 8, 3.6, new Paint(Ink.Grid, Ink.Dark, 1));
        svg.Ellipse(x + 7, y - 4, 7, 3.2, new Paint(Ink.Grid, Ink.Dark, 1));
    }

    internal void Hair(double x, double y)
    {
        for (var i = -3; i <= 3; i++) svg.Points(Enumerable.Range(0, 9).Select(k => (x - 20 + (5.0 * k), y + (i * 2.6) + (4 * Math.Sin((k * 0.7) + i)))), false, Paint.Line(Ink.Dark, 0.7));
    }

    internal void Cracks(double x, double y)
    {
        svg.Points([(x - 18, y), (x - 10, y - 4), (x - 3, y + 2), (x + 6, y - 3), (x + 17, y + 1)], false, Thin);
        svg.Points([(x - 10, y - 4), (x - 12, y + 5)], false, Thin);
        svg.Points([(x + 6, y - 3), (x + 8, y + 6)], false, Thin);
    }

    internal void Ant(double x, double y)
    {
        foreach (var (dx, r) in (ReadOnlySpan<(double, double)>)[(-3.4, 1.5), (0, 1.1), (3.4, 2)]) svg.Ellipse(x + dx, y, r, r * 0.8, Black);
        foreach (var dx in (ReadOnlySpan<double>)[-1.5, 0, 1.5]) svg.Line(x + dx - 1, y - 4, x + dx + 1, y + 4, Paint.Line(Ink.Dark, 0.6));
    }

    /// <summary>A cloven print: two halves.</summary>
    internal void Hoof(double x, double y)
    {
        svg.Points([(x - 1.2, y + 8), (x - 7, y + 6), (x - 7.5, y - 2), (x - 2, y - 10), (x - 1, y - 4)], true, Black);
        svg.Points([(x + 1.2, y + 8), (x + 7, y + 6), (x + 7.5, y - 2), (x + 2, y - 10), (x + 1, y - 4)], true, Black);
    }

    private static IEnumerable<(double X, double Y)> EggOutline(double x, double y, double half, double from, int points) =>
        Enumerable.Range(0, points).Select(i => from + (i * Math.Tau / points)).Select(a => (x + (half * Math.Cos(a)), y + (half * 0.74 * Math.Sin(a) * (1 - (0.16 * Math.Cos(a))))));
}
