namespace Tussock.Records;

/// <summary>How far the clock of the camera that saw an event was ahead: the camera that the event names, else the one that stood there on that date, else the first at the nest whose clock was off.</summary>
internal sealed class ClockOffsets(IEnumerable<Deployment> deployments)
{
    private readonly Dictionary<Nest, Deployment[]> byNest = deployments.GroupBy(d => d.Nest).Where(g => g.Any(d => d.ClockOffsetMin != 0)).ToDictionary(g => g.Key, g => g.ToArray());

    /// <summary>Minutes ahead; negative behind.</summary>
    internal double Of(Nest nest, Source seen)
    {
        if (!byNest.TryGetValue(nest, out var there)) return 0;
        if (there.Length == 1) return there[0].ClockOffsetMin;
        var named = seen.Text("deployment");
        var of = named.Length > 0 ? there.FirstOrDefault(d => d.Source.Text("deployment") == named) : null;
        if (of is null && Cell.DateOf(seen.Text("event_at")) is { } on)
        {
            var then = there.Where(d => Stood(d, on)).ToArray();
            of = then.Length == 1 ? then[0] : null;
        }

        return (of ?? there.First(d => d.ClockOffsetMin != 0)).ClockOffsetMin;
    }

    private static bool Stood(Deployment camera, DateOnly on) =>
        Cell.DateOf(camera.Source.Text("from")) is { } from && from <= on && (Cell.DateOf(camera.Source.Text("to")) ?? DateOnly.MaxValue) >= on;
}
