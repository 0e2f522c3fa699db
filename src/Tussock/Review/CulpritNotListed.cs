using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>A camera event with a culprit that is not among the classes: it counts as "other".</summary>
internal static class CulpritNotListed
{
    private static readonly ImmutableArray<string> Classes =
        ["skunk", "raccoon", "opossum", "coyote", "fox", "bobcat", "badger", "feral_hog", "armadillo", "bird", "snake", "rodent", "livestock", "dog", "ants", "person", "other", "unknown"];

    internal static void Look(Inspection on)
    {
        foreach (var seen in on.Season.CameraEvents)
        {
            if (seen.Culprit.Length > 0 && !Classes.Contains(seen.Culprit))
                on.Add("culprit_not_listed", Severity.Odd, seen.Source.Place("culprit"), seen.Nest, ("culprit", TableCheck.Shown(seen.Source.Text("culprit"))), ("classes", string.Join(", ", Classes)));
        }
    }
}
