using System.Collections.Immutable;

namespace Tussock.Store;

/// <summary>A change that was not taken in.</summary>
/// <param name="Id">Its id; null where it could not be read.</param>
/// <param name="Why">Why, for people.</param>
/// <param name="Keep">Whether the phone must keep it: the desk has something else in its place.</param>
public sealed record RefusedChange(Guid? Id, Phrase Why, bool Keep);

/// <summary>What became of changes that came from elsewhere.</summary>
/// <param name="Position">Position of the journal afterwards.</param>
/// <param name="Accepted">Ids of those that are in the journal now, whether they were new or not.</param>
/// <param name="Refused">Those that are not.</param>
/// <param name="New">How many were new.</param>
public sealed record Received(long Position, ImmutableArray<Guid> Accepted, ImmutableArray<RefusedChange> Refused, int New);

/// <summary>A phone that was paired with a data file.</summary>
/// <param name="Device">Its id as a device.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="PairedAt">When it was paired.</param>
/// <param name="ShutOutAt">When it was shut out; null: it may send.</param>
/// <param name="LastSeen">When it last sent something; null: never.</param>
public sealed record PairedPhone(Guid Device, string Name, DateTimeOffset PairedAt, DateTimeOffset? ShutOutAt, DateTimeOffset? LastSeen);
