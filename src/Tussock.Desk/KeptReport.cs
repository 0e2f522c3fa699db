using System.Collections.Immutable;

namespace Tussock.Desk;

/// <summary>A report that was made and kept.</summary>
/// <param name="Key">Its short name in addresses.</param>
/// <param name="MadeAt">When it was made.</param>
/// <param name="By">Who made it.</param>
/// <param name="Version">Version of the program.</param>
/// <param name="Seed">Seed of everything drawn.</param>
/// <param name="Position">Last change of the data file that it rests on.</param>
/// <param name="Pages">Names of its files, without ending.</param>
public sealed record KeptReport(string Key, DateTimeOffset MadeAt, string By, string Version, ulong Seed, long Position, ImmutableArray<string> Pages)
{
    /// <summary>Name of the season; null in reports that were made while a desk served only one.</summary>
    public string? Season { get; init; }
}
