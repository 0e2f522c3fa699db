using Tussock.Records;

namespace Tussock.Review;

/// <summary>Under the rule "lost when no egg is left", a camera event that took eggs without saying how many.</summary>
internal static class EggsTakenMissing
{
    internal static void Look(Inspection on)
    {
        if (on.Season.Settings.LossRule != LossRule.AllEggs) return;
        foreach (var seen in on.Season.CameraEvents)
        {
            if (seen.TookEggs == true && seen.EggsTaken is null) on.Add("eggs_taken_missing", Severity.Missing, seen.Source.Place("eggs_taken"), seen.Nest);
        }
    }
}
