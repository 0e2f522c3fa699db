using Tussock.Records;

namespace Tussock.Fates;

/// <summary>What a visit says about a nest once eggs, loss rule and causes are weighed.</summary>
public enum Seen
{
    /// <summary>Nothing: the nest was not relocated.</summary>
    Nothing,

    /// <summary>Intact.</summary>
    Intact,

    /// <summary>Lost.</summary>
    Lost,

    /// <summary>Whole until now and watched no longer: spoiled in place, crew, person, moved.</summary>
    EndOfWatching,
}

/// <summary>Reads one visit by the rules of its season.</summary>
public static class VisitReading
{
    /// <summary>What the visit says. The egg count wins over the finding where both eggs set and eggs found whole are written.</summary>
    /// <param name="visit">The visit.</param>
    /// <param name="rule">When a nest counts as lost by its eggs.</param>
    /// <source>Common practice, no source (any egg gone or broken is a loss; a season may choose all eggs).</source>
    public static Seen Read(Visit visit, LossRule rule)
    {
        if (visit.Finding == Finding.NotRelocated) return Seen.Nothing;
        if (visit.Finding == Finding.OtherLoss && IsArtefact(visit.Cause)) return Seen.EndOfWatching;
        if (ByCount(visit, rule) is { } isLost) return isLost ? Seen.Lost : Seen.Intact;
        return visit.Finding == Finding.Intact ? Seen.Intact : Seen.Lost;
    }

    /// <summary>Whether the egg count says lost; null when eggs set or eggs found whole are not written.</summary>
    public static bool? ByCount(Visit visit, LossRule rule) =>
        visit.EggsIntact is { } whole && visit.Nest.Eggs is { } set && set > 0 ? rule == LossRule.AnyEgg ? whole < set : whole == 0 : null;

    /// <summary>Whether a cause ends the watching without losing the nest.</summary>
    public static bool IsArtefact(string cause) => cause is "spoiled_in_place" or "spoiled" or "crew" or "person" or "moved";

    /// <summary>The cause of a loss found at a visit.</summary>
    public static Cause CauseOf(Visit visit) => visit.Finding != Finding.OtherLoss ? Cause.Depredated : visit.Cause switch
    {
        "" => Cause.NotRecorded,
        "trampled" => Cause.Trampled,
        "flooded" => Cause.Flooded,
        "burned" => Cause.Burned,
        "mown_or_driven" => Cause.MownOrDriven,
        "livestock" => Cause.Livestock,
        "hail" => Cause.Hail,
        _ => Cause.Other,
    };
}
