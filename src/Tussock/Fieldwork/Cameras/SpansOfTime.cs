namespace Tussock.Fieldwork.Cameras;

/// <summary>Stretches of time that may overlap; whether a moment lies in one, both ends belonging to it.</summary>
public sealed class SpansOfTime
{
    private readonly DateTime[] starts, latest;

    /// <param name="spans">Begin and end of each, in any order.</param>
    public SpansOfTime(IEnumerable<(DateTime From, DateTime To)> spans)
    {
        var sorted = spans.OrderBy(s => s.From).ToArray();
        starts = [.. sorted.Select(s => s.From)];
        latest = [.. sorted.Select(s => s.To)];
        for (var i = 1; i < latest.Length; i++) if (latest[i] < latest[i - 1]) latest[i] = latest[i - 1];
    }

    /// <summary>Whether a moment lies in one of them.</summary>
    public bool Has(DateTime moment)
    {
        var at = Array.BinarySearch(starts, moment);
        if (at < 0) at = ~at - 1;
        while (at + 1 < starts.Length && starts[at + 1] == moment) at++;
        return at >= 0 && latest[at] >= moment;
    }
}
