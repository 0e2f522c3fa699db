namespace Tussock.Desk;

/// <summary>One season of the data file beside the others.</summary>
/// <param name="Name">Name of the season.</param>
/// <param name="Year">Its year as written.</param>
/// <param name="Numbers">What it says; null when something stops the reading.</param>
/// <param name="AreSetDatesAssumed">Whether dates of set-out were put in by guess.</param>
public sealed record YearShown(string Name, string Year, YearNumbers? Numbers, bool AreSetDatesAssumed)
{
    /// <summary>What the season is called in a row of years.</summary>
    public string Label => Year.Length > 0 ? Year : Name;
}
