using Tussock.Numerics;
using Tussock.Records;
using static Tussock.Simulation.DemoText;

namespace Tussock.Simulation;

/// <summary>Cameras of an invented season: at nests drawn before anyone knew their fate; some batteries die, one clock is wrong.</summary>
internal sealed class DemoCameras(Seeded chance)
{
    private readonly RowsOf events = new(RecordKind.Cameras, "transect", "nest", "event_at", "culprit", "certainty", "took_eggs", "role", "eggs_taken");
    private readonly RowsOf deployments = new(RecordKind.Deployments, "transect", "nest", "from", "to", "camera", "worked_until", "failed_because", "clock_offset_min", "chosen", "distance_m");
    private int count;

    internal (RecordTable Events, RecordTable Deployments) Tables(IReadOnlyList<DemoLine> lines)
    {
        foreach (var nest in lines.SelectMany(l => l.Nests).Where(n => n.HasCamera)) Watch(nest);
        return (events.Table(), deployments.Table());
    }

    private void Watch(DemoNest nest)
    {
        count++;
        var last = nest.EndSeenOn > 0 ? nest.EndSeenOn : nest.Line.Checks.Second;
        var works = chance.NextUniform() < 0.1 ? 3 + (8 * chance.NextUniform()) : last;
        var offset = count == 4 ? 60 : 0;
        deployments.Add(("transect", nest.Line.Name), ("nest", Of(nest.Number)), ("from", At(nest, 0, 0)), ("to", At(nest, last, 0)), ("camera", "cam " + Of(count)),
            ("worked_until", works < last ? At(nest, works, 0) : ""), ("failed_because", works < last ? "battery" : ""), ("clock_offset_min", Of(offset)), ("chosen", "drawn"), ("distance_m", Of(1.5 + chance.NextUniform(), 1)));
        if (chance.NextUniform() < 0.3) PassedBy(nest, works, offset);
        if (nest.EndDay <= 0 || nest.EndDay >= works) return;
        if (nest.End == DemoEnd.Eaten) Took(nest, works, offset);
        else if (nest.End == DemoEnd.Trampled) events.Add([.. Key(nest), ("event_at", At(nest, nest.EndDay, offset)), ("culprit", "livestock"), ("certainty", "sure"), ("took_eggs", "no"), ("role", "trampled")]);
    }

    private void PassedBy(DemoNest nest, double works, int offset)
    {
        var until = Math.Min(works, nest.EndDay > 0 ? nest.EndDay : works) - 0.2;
        if (until <= 0.5) return;
        var day = 0.3 + ((until - 0.3) * chance.NextUniform());
        events.Add([.. Key(nest), ("event_at", At(nest, day, offset)), ("culprit", Draw.One<string>(["raccoon", "skunk", "coyote"], chance)), ("certainty", "sure"), ("took_eggs", "no"), ("role", "passed")]);
    }

    private void Took(DemoNest nest, double works, int offset)
    {
        var atOnce = chance.NextUniform() < 0.6;
        var sure = chance.NextUniform() < 0.85 ? "sure" : "likely";
        events.Add([.. Key(nest), ("event_at", At(nest, nest.EndDay, offset)), ("culprit", nest.Culprit), ("certainty", sure), ("took_eggs", "yes"), ("role", "took_first"), ("eggs_taken", atOnce ? "3" : "2")]);
        var later = nest.EndDay + 0.05;
        if (!atOnce && later < works) events.Add([.. Key(nest), ("event_at", At(nest, later, offset)), ("culprit", nest.Culprit), ("certainty", sure), ("took_eggs", "yes"), ("role", "took_later"), ("eggs_taken", "1")]);
    }

    private static (string, string)[] Key(DemoNest nest) => [("transect", nest.Line.Name), ("nest", Of(nest.Number))];

    /// <summary>What the camera's clock shows so many days after set-out. Where set-out has a date alone, its day counts from noon.</summary>
    private static string At(DemoNest nest, double day, int offsetMinutes) =>
        Moment(nest.Line.SetOn, (nest.Line.Pasture.HasTimes ? DemoNests.SetMinutes(nest) : 720) + (day * MinutesADay) + offsetMinutes);
}
