using Tussock.Land;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>The way from a flag to its nest as it was written.</summary>
/// <param name="Way">The way as paced, its sense taken into account.</param>
/// <param name="TurnDeg">Degrees by which the whole way may be turned.</param>
/// <param name="AccuracyM">Accuracy of the nest's position in metres; 0 when not written.</param>
/// <param name="HasSense">Whether the sense of the direction was written.</param>
/// <param name="IsNestToFlag">Whether it was taken from nest to flag.</param>
internal readonly record struct Walk(Offset Way, double TurnDeg, double AccuracyM, bool HasSense, bool IsNestToFlag);

/// <summary>Reads the way from flag to nest: steps and direction, a second leg where there is one.</summary>
internal sealed class WalkCells(Season season)
{
    private const double PointTurnDeg = 11.25;
    private const double DegreesTurnDeg = 3;
    private const double LargestDeclinationDeg = 15;

    private readonly RowCells steps = new(season, RecordKind.Nests, "steps");
    private readonly RowCells direction = new(season, RecordKind.Nests, "direction");
    private readonly RowCells secondSteps = new(season, RecordKind.Nests, "steps_2");
    private readonly RowCells secondDirection = new(season, RecordKind.Nests, "direction_2");
    private readonly RowCells sense = new(season, RecordKind.Nests, "direction_sense");
    private readonly RowCells north = new(season, RecordKind.Nests, "north");
    private readonly RowCells accuracy = new(season, RecordKind.Nests, "gps_accuracy_m");

    /// <summary>The way to a nest; null when steps, direction or the length of a step are not on record.</summary>
    internal Walk? Of(Nest nest)
    {
        if (nest.Transect.StepM is not { } step || steps.Number(nest.Source) is not { } count || Direction.Parse(direction.Text(nest.Source)) is not { } along) return null;
        var way = Offset.Along(along.Degrees, count * step);
        if (secondSteps.Number(nest.Source) is { } more)
        {
            if (Direction.Parse(secondDirection.Text(nest.Source)) is not { } then) return null;
            way += Offset.Along(then.Degrees, more * step);
        }

        var written = sense.Token(nest.Source);
        var isBack = written == "nest_to_flag";
        var turn = (along.IsPoint ? PointTurnDeg : DegreesTurnDeg) + (north.Token(nest.Source) == "true" ? 0 : LargestDeclinationDeg);
        return new Walk(isBack ? new Offset(-way.EastM, -way.NorthM) : way, turn, accuracy.Number(nest.Source) ?? 0, written.Length > 0, isBack);
    }
}
