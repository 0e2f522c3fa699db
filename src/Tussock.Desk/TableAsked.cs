namespace Tussock.Desk;

/// <summary>What somebody wants to see of a table.</summary>
/// <param name="Text">Only rows that hold this text in some cell, whatever its capitals; empty: all.</param>
/// <param name="Sort">Column to sort by; empty: the order of the season.</param>
/// <param name="Descending">Greatest first.</param>
/// <param name="Page">Page, from 1.</param>
public sealed record TableAsked(string Text, string Sort, bool Descending, int Page);
