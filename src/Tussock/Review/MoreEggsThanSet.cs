namespace Tussock.Review;

/// <summary>More eggs found whole than were set.</summary>
internal static class MoreEggsThanSet
{
    internal static void Look(Inspection on)
    {
        foreach (var visit in on.Season.Visits)
        {
            if (visit.EggsIntact is { } whole && visit.Nest.Eggs is { } set && whole > set)
                on.Add("more_eggs_than_set", Severity.Contradiction, visit.Source.Place("eggs_intact"), visit.Nest, ("whole", whole), ("set", set));
        }
    }
}
