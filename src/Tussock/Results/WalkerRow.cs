using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>What a walker's walks of the measured course say about step and arm span.</summary>
/// <param name="Walker">Who walked.</param>
/// <param name="Walks">Walks of the course, 1 or more.</param>
/// <param name="StepM">Mean length of a step in metres.</param>
/// <param name="ShortestM">Shortest mean step of a walk in metres.</param>
/// <param name="LongestM">Longest mean step of a walk in metres.</param>
/// <param name="ArmSpanM">Mean arm span in metres; null when it was never measured.</param>
public sealed record WalkerRow(string Walker, int Walks, double StepM, double ShortestM, double LongestM, double? ArmSpanM)
{
    /// <summary>The walkers of a season in ordinal order; empty when nobody walked the course.</summary>
    public static ImmutableArray<WalkerRow> Of(Season season)
    {
        var walks = season.CrewWalks.Where(w => w is { CourseM: > 0, Steps: > 0 }).GroupBy(w => w.Observer, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal);
        return [.. walks.Select(g => Row(g.Key, [.. g]))];
    }

    private static WalkerRow Row(string walker, CrewWalk[] walks)
    {
        var steps = Array.ConvertAll(walks, w => w.CourseM!.Value / w.Steps!.Value);
        double[] spans = [.. walks.Select(w => w.ArmSpanM).OfType<double>()];
        return new WalkerRow(walker, walks.Length, steps.Average(), steps.Min(), steps.Max(), spans.Length == 0 ? null : spans.Average());
    }
}
