using Tussock.Records;

namespace Tussock.Review;

/// <summary>A nest more steps from its flag than anybody goes.</summary>
internal static class StepsFar
{
    private const double Usual = 60;

    internal static void Look(Inspection on)
    {
        var steps = new RowCells(on.Season, RecordKind.Nests, "steps");
        foreach (var nest in on.Season.Nests)
        {
            if (steps.Number(nest.Source) is { } count && count > Usual) on.Add("steps_far", Severity.Odd, nest.Source.Place("steps"), nest, ("steps", count), ("usual", Usual));
        }
    }
}
