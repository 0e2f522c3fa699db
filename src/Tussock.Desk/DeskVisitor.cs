namespace Tussock.Desk;

/// <summary>Whoever looks at a page, as far as pages have to know.</summary>
/// <param name="Name">Name; empty for somebody who has not signed in.</param>
/// <param name="IsSignedIn">Whether this person signed in, and so can sign out.</param>
/// <param name="CanWrite">Whether this person may change records: pages leave out the buttons that would be refused.</param>
/// <param name="MayOpen">Whether a page of an address would open.</param>
public sealed record DeskVisitor(string Name, bool IsSignedIn, bool CanWrite, Func<string, bool> MayOpen)
{
    /// <summary>Somebody who has not signed in.</summary>
    public static DeskVisitor Stranger { get; } = new("", IsSignedIn: false, CanWrite: false, _ => false);
}
