using System.Collections.Immutable;
using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Store;

/// <summary>One state of a season: its tables and its records with the heads of their values, read together.</summary>
/// <param name="Id">Id of the season.</param>
/// <param name="Tables">Its tables as a folder would have them, with ids.</param>
/// <param name="Records">Its records; void and waiting ones among them.</param>
/// <param name="Position">Position of the journal.</param>
public sealed record SeasonState(Guid Id, SeasonTables Tables, ImmutableArray<RecordState> Records, long Position);
