namespace Tussock.Fates;

/// <summary>What the visits together say about a nest at a given day.</summary>
public enum FateAt
{
    /// <summary>Not known whether it was intact at that day.</summary>
    Unknown,

    /// <summary>Survived to that day.</summary>
    Survived,

    /// <summary>Lost by that day.</summary>
    Lost,
}

/// <summary>Why a nest was lost. Artefacts (spoiled in place, crew, person, moved) are no losses and never appear here.</summary>
public enum Cause
{
    /// <summary>The nest was never found lost.</summary>
    None,

    /// <summary>Taken by a predator.</summary>
    Depredated,

    /// <summary>Trampled.</summary>
    Trampled,

    /// <summary>Flooded.</summary>
    Flooded,

    /// <summary>Burned.</summary>
    Burned,

    /// <summary>Mown over or driven over.</summary>
    MownOrDriven,

    /// <summary>Livestock other than by trampling (licked, kicked, picked up).</summary>
    Livestock,

    /// <summary>Hail.</summary>
    Hail,

    /// <summary>Another cause, in words that are not on the list.</summary>
    Other,

    /// <summary>An other loss without a cause on record: a share of its own.</summary>
    NotRecorded,
}
