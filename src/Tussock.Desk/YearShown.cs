using Tussock.Results;

namespace Tussock.Desk;

/// <summary>One season of the data file beside the others.</summary>
/// <param name="Name">Name of the season.</param>
/// <param name="Year">Its year as written.</param>
/// <param name="Results">Its answer; null when something stops the reading.</param>
/// <param name="AreSetDatesAssumed">Whether dates of set-out were put in by guess.</param>
public sealed record YearShown(string Name, string Year, SeasonResults? Results, bool AreSetDatesAssumed);
