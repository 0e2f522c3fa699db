using Tussock.Records;

namespace Tussock.Review;

/// <summary>A transect that is planned and not set out.</summary>
internal static class PlannedNotSet
{
    internal static void Look(Inspection on)
    {
        var set = on.Season.Nests.Where(n => n.SetOn is not null).Select(n => n.Transect).ToHashSet();
        foreach (var transect in on.Season.Transects)
        {
            if (transect.SetOn is null && !set.Contains(transect)) on.Add("planned_not_set", Severity.Note, transect.Source.Place("set_on"), transect);
        }
    }
}
