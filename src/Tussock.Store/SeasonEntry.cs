namespace Tussock.Store;

/// <summary>A season in a data file.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Its name, the key for people.</param>
/// <param name="Year">Its label of the year; empty when it has none.</param>
public sealed record SeasonEntry(Guid Id, string Name, string Year);
