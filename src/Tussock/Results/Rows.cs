using Tussock.Cover;
using Tussock.Records;
using Tussock.Survival;
using Tussock.Verdicts;

namespace Tussock.Results;

/// <summary>One cover class against the reference.</summary>
/// <param name="Property">Property of the pasture; null = whole season.</param>
/// <param name="Pasture">Pasture; null = whole season.</param>
/// <param name="Reference">The reference class.</param>
/// <param name="Other">The class held against it.</param>
/// <param name="Comparison">Ratios over transects.</param>
/// <param name="HazardRatio">Ratio of hazards, nests of a line sharing luck.</param>
public sealed record CoverComparisonRow(string? Property, string? Pasture, string Reference, string Other, CoverComparison Comparison, Estimate HazardRatio);

/// <summary>Runs of losses along the line, for the season or one transect.</summary>
/// <param name="Level">Season or transect.</param>
/// <param name="Name">Name of the season or transect.</param>
/// <param name="Check">Day: first check or end of the trial.</param>
/// <param name="Runs">The test; a reason when no line is informative.</param>
public sealed record RunsRow(GroupLevel Level, string Name, int Check, Answer<RunsOfLosses> Runs);

/// <summary>Clump density of one group of lines.</summary>
/// <param name="Level">Season, property, pasture or transect.</param>
/// <param name="Name">Name of the group.</param>
/// <param name="Property">Property; null where the group crosses properties.</param>
/// <param name="Cover">Cover class; null = all classes that count together.</param>
/// <param name="Density">The estimate.</param>
public sealed record DensityRow(GroupLevel Level, string Name, string? Property, string? Cover, ClumpDensity Density);

/// <summary>The verdict for a pasture or a property.</summary>
/// <param name="Property">The property.</param>
/// <param name="Pasture">The pasture; null = the property as a whole.</param>
/// <param name="Group">Survival of its nests.</param>
/// <param name="Density">Clump density of its lines.</param>
/// <param name="Verdict">What survival and density together say.</param>
/// <param name="MoreLines">How many more lines would settle survival; null when it is settled.</param>
public sealed record VerdictRow(string Property, Pasture? Pasture, GroupResults Group, ClumpDensity Density, Verdict Verdict, Answer<int>? MoreLines);
