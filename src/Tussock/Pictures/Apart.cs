namespace Tussock.Pictures;

/// <summary>Places above each other for lines of words that want to stand at heights that may be too close.</summary>
internal static class Apart
{
    /// <summary>A height for each wish, in the order of the wishes: ascending ones stay ascending, each at least a gap from the next, none above the top; all above the bottom as long as there is room.</summary>
    /// <param name="wanted">Heights in ascending order.</param>
    /// <param name="gap">Least distance.</param>
    /// <param name="room">Smallest and largest height.</param>
    internal static double[] Heights(IReadOnlyList<double> wanted, double gap, (double Top, double Bottom) room)
    {
        var at = new double[wanted.Count];
        for (var i = 0; i < at.Length; i++) at[i] = Math.Max(wanted[i], i == 0 ? room.Top : at[i - 1] + gap);
        for (var i = at.Length - 1; i >= 0; i--) at[i] = Math.Min(at[i], i == at.Length - 1 ? room.Bottom : at[i + 1] - gap);
        return at;
    }
}
