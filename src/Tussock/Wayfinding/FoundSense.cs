using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Wayfinding;

/// <summary>What finding a nest at one of two places says of other nests: whoever forgets the sense once forgets it all day, and reads the same way all day.</summary>
public static class FoundSense
{
    /// <summary>The nests for which the sense of this one may be offered; nothing is written by itself.</summary>
    /// <param name="season">The season.</param>
    /// <param name="nest">A nest whose sense is not written.</param>
    /// <returns>The other nests of that day and recorder with a direction and no sense, in the season's order; where nobody is named, those of the same transect only. Empty when this nest needs no sense.</returns>
    public static ImmutableArray<Nest> OfferedTo(Season season, Nest nest)
    {
        if (!IsOpen(nest) || nest.SetOn is not { } day) return [];
        var who = Recorder(nest);
        return [.. season.Nests.Where(n => n != nest && IsOpen(n) && n.SetOn == day && Recorder(n) == who && (who.Length > 0 || n.Transect == nest.Transect))];
    }

    /// <summary>Whether a nest has a direction and no sense.</summary>
    private static bool IsOpen(Nest nest) => nest.Source.Text("direction").Length > 0 && nest.Source.Text("direction_sense").Length == 0;

    /// <summary>Who wrote the direction: the recorder of the transect where there was one, else whoever paced.</summary>
    private static string Recorder(Nest nest) => nest.Transect.Source.Text("recorder") is { Length: > 0 } written ? written : SeasonWays.WalkerOf(nest);
}
