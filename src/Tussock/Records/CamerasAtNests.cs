namespace Tussock.Records;

/// <summary>Which camera saw an event: the one that the event names, else the one that stood there on that date, else the first at the nest whose clock was off, else the first.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed class CamerasAtNests
{
    private readonly Dictionary<Nest, Deployment[]> byNest;

    /// <param name="deployments">Cameras and where they stood.</param>
    public CamerasAtNests(IEnumerable<Deployment> deployments) => byNest = deployments.GroupBy(d => d.Nest).ToDictionary(g => g.Key, g => g.ToArray());

    /// <summary>The camera; null where none stood at the nest.</summary>
    /// <param name="nest">The nest.</param>
    /// <param name="seen">The row of the event.</param>
    public Deployment? Of(Nest nest, Source seen)
    {
        if (!byNest.TryGetValue(nest, out var there)) return null;
        if (there.Length == 1) return there[0];
        var named = seen.Text("deployment");
        if (named.Length > 0 && there.FirstOrDefault(d => d.Source.Text("deployment") == named) is { } said) return said;
        if (Cell.DateOf(seen.Text("event_at")) is { } on && there.Where(d => Stood(d, on)).ToArray() is [var one]) return one;
        return there.FirstOrDefault(d => d.ClockOffsetMin != 0) ?? there[0];
    }

    private static bool Stood(Deployment camera, DateOnly on) =>
        Cell.DateOf(camera.Source.Text("from")) is { } from && from <= on && (Cell.DateOf(camera.Source.Text("to")) ?? DateOnly.MaxValue) >= on;
}
