namespace Tussock.Review;

/// <summary>A pasture without a transect.</summary>
internal static class PastureWithoutTransects
{
    internal static void Look(Inspection on)
    {
        var walked = on.Season.Transects.Select(t => t.Pasture).ToHashSet();
        foreach (var pasture in on.Season.Pastures)
        {
            if (!walked.Contains(pasture)) on.Add("pasture_without_transects", Severity.Note, pasture.Source.Place("pasture"), ("property", pasture.Property), ("pasture", pasture.Name));
        }
    }
}
