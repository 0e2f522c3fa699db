namespace Tussock.Pictures;

/// <summary>Words that want to stand with their middle at a place on a level line.</summary>
/// <param name="Wanted">Where the middle wants to be, in points.</param>
/// <param name="Text">The words.</param>
internal sealed record Label(double Wanted, string Text)
{
    private const double Gap = 8;

    /// <summary>Places for labels in the order of their wishes: inside the picture, none over another as long as there is room for all.</summary>
    internal static double[] Apart(IReadOnlyList<Label> labels, double width, double size)
    {
        var at = new double[labels.Count];
        var half = labels.Select(l => Svg.TextWidth(l.Text, size) / 2).ToArray();
        var free = 0.0;
        for (var i = 0; i < at.Length; i++)
        {
            at[i] = Math.Max(labels[i].Wanted, free + half[i]);
            free = at[i] + half[i] + Gap;
        }

        free = width;
        for (var i = at.Length - 1; i >= 0; i--)
        {
            at[i] = Math.Min(at[i], free - half[i]);
            free = at[i] - half[i] - Gap;
        }

        return at;
    }
}
