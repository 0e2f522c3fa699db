using System.Collections.Immutable;

namespace Tussock.Desk;

/// <summary>The accounts as their page shows them.</summary>
/// <param name="People">Everybody, by name.</param>
/// <param name="Properties">Properties that a landowner can be given.</param>
/// <param name="Book">The last lines of the book, newest first.</param>
/// <param name="Said">What has just been done; null when nothing was.</param>
/// <param name="Wrong">Why nothing was done; null when nothing was refused.</param>
public sealed record PeopleShown(ImmutableArray<PersonShown> People, ImmutableArray<string> Properties, ImmutableArray<BookLine> Book, Phrase? Said, Phrase? Wrong);

/// <summary>One account.</summary>
/// <param name="Id">Id.</param>
/// <param name="Name">Name.</param>
/// <param name="Role">Token of the role.</param>
/// <param name="Properties">A landowner's properties.</param>
/// <param name="IsSelf">Whether it is that of whoever looks: it can't be taken from oneself.</param>
public sealed record PersonShown(Guid Id, string Name, string Role, ImmutableArray<string> Properties, bool IsSelf);

/// <summary>One of one's own passkeys.</summary>
/// <param name="Id">Id.</param>
/// <param name="Name">What its owner calls it.</param>
/// <param name="AddedAt">When it was made.</param>
/// <param name="UsedAt">When somebody last signed in with it; null when nobody has.</param>
public sealed record PasskeyShown(string Id, string Name, DateTimeOffset AddedAt, DateTimeOffset? UsedAt);

/// <summary>One line of the book.</summary>
/// <param name="At">When, UTC.</param>
/// <param name="What">What happened.</param>
/// <param name="Address">Where it came from; empty at the desk itself.</param>
public sealed record BookLine(DateTimeOffset At, Phrase What, string Address);
