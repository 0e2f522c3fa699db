namespace Tussock.Records;

/// <summary>What one look at one nest found.</summary>
public enum Finding
{
    /// <summary>Whole.</summary>
    Intact,

    /// <summary>Taken by a predator.</summary>
    Depredated,

    /// <summary>Lost in another way, with its cause; or an artefact (spoiled in place, crew, person, moved) that only ends the watching.</summary>
    OtherLoss,

    /// <summary>Neither bowl nor washer found: neither intact nor lost.</summary>
    NotRelocated,
}

/// <summary>What became of a station.</summary>
public enum StationStatus
{
    /// <summary>A nest was set.</summary>
    Set,

    /// <summary>No suitable clump within the search rule: no nest, but cover data.</summary>
    NoClump,

    /// <summary>Not set for another reason.</summary>
    NotSet,

    /// <summary>A nest outside the plan (new eggs in an old bowl): watched, not in the headline.</summary>
    Extra,
}
