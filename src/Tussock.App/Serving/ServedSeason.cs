using Tussock.Desk;
using Tussock.Store;
using Tussock.Words;

namespace Tussock.App.Serving;

/// <summary>What is served: one season of a data file, to whom, and where to say what happens.</summary>
/// <param name="File">The data file.</param>
/// <param name="Season">The season.</param>
/// <param name="IsLoopbackOnly">Whether only this machine can ask.</param>
/// <param name="Clock">The clock.</param>
/// <param name="Words">The language.</param>
/// <param name="Say">Where to say what happens.</param>
/// <param name="Fault">Where to say what is wrong with the program; null: nowhere.</param>
internal sealed record ServedSeason(DataFile File, SeasonEntry Season, bool IsLoopbackOnly, TimeProvider Clock, Catalogue Words, Action<Phrase> Say, Action<Phrase>? Fault = null)
{
    /// <summary>Pictures from above that the map may show; null: none.</summary>
    internal Imagery? Imagery { get; init; }
}
