using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>A further grouping over the groups of a table: pastures that hold lines, years that cross them.</summary>
/// <param name="Name">What one of its groups is called, in the singular: pasture, year.</param>
/// <param name="Level">Index, from 0, of the level of each group of the table. Two levels equal in all groups can't be told apart.</param>
/// <remarks>Groupings may be nested in each other or crossed. May be shared between threads.</remarks>
public sealed record Grouping(string Name, ImmutableArray<int> Level)
{
    /// <summary>Number of levels.</summary>
    public int Levels { get; } = Level.IsEmpty ? 0 : Level.Max() + 1;
}
