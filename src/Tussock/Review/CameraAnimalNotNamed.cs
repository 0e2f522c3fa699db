namespace Tussock.Review;

/// <summary>A camera event of which nobody has said what animal it shows.</summary>
internal static class CameraAnimalNotNamed
{
    internal static void Look(Inspection on)
    {
        foreach (var seen in on.Season.CameraEvents)
        {
            if (seen.Culprit.Length == 0) on.Add("camera_animal_not_named", Severity.Missing, seen.Source.Place("culprit"), seen.Nest, ("day", seen.Day ?? 0));
        }
    }
}
