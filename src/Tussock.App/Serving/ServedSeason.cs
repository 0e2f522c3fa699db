using Tussock.Store;
using Tussock.Words;

namespace Tussock.App.Serving;

/// <summary>What is served: one season of a data file, to whom, and where to say what happens.</summary>
internal sealed record ServedSeason(DataFile File, SeasonEntry Season, bool IsLoopbackOnly, TimeProvider Clock, Catalogue Words, Action<Phrase> Say);
