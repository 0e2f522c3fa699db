namespace Tussock.Store;

/// <summary>A season in a data file.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Its name, the key for people.</param>
/// <param name="Year">Its label of the year; empty when it has none.</param>
public sealed record SeasonEntry(Guid Id, string Name, string Year)
{
    /// <summary>Of which published archive it came; empty: of none.</summary>
    public string Archive { get; init; } = "";

    /// <summary>Whether its places and names were coarsened before it came here.</summary>
    public bool IsCoarsened { get; init; }
}
