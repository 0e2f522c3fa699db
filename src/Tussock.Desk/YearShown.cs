using System.Collections.Immutable;
using Tussock.Years;

namespace Tussock.Desk;

/// <summary>One season of the data file beside the others.</summary>
/// <param name="Name">Name of the season.</param>
/// <param name="Year">Its year as written.</param>
/// <param name="Lands">What it says of each property and pasture; empty where it holds none.</param>
/// <param name="IsStopped">Whether something stops its reading.</param>
public sealed record YearShown(string Name, string Year, ImmutableArray<PastureYear> Lands, bool IsStopped);
