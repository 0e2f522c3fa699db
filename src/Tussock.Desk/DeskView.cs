using System.Collections.Immutable;
using Tussock.Words;

namespace Tussock.Desk;

/// <summary>What every page gets: the answer, the language, the address that was asked for, and the token that its forms carry.</summary>
/// <param name="Answer">What the desk knows.</param>
/// <param name="Words">The language.</param>
/// <param name="Path">Path of the page, to mark it in the list of pages.</param>
/// <param name="TokenName">Name of the hidden field against forged forms.</param>
/// <param name="Token">Its value.</param>
public sealed record DeskView(DeskAnswer Answer, Catalogue Words, string Path, string TokenName, string Token)
{
    /// <summary>Who looks.</summary>
    public required DeskVisitor Visitor { get; init; }

    /// <summary>Address to come back to from a form that only changes how pages look.</summary>
    public required string Back { get; init; }

    /// <summary>What every address of this season begins with; empty where there is one season. Pages leave it out: it is put in when they are sent.</summary>
    public string SeasonPrefix { get; init; } = "";

    /// <summary>The seasons to choose from; none where there is no choice.</summary>
    public ImmutableArray<SeasonLink> Seasons { get; init; } = [];

    /// <summary>Key of what stands where an answer is missing: it is on its way, or a fault of the program keeps it away.</summary>
    public string Missing => Answer.IsBroken ? "desk.broken" : "desk.computing";

    /// <summary>A sentence.</summary>
    public string Say(string key, params ReadOnlySpan<(string Name, object Value)> arguments) => Words.Say(Phrase.Of(key, arguments));

    /// <summary>A sentence.</summary>
    public string Say(Phrase phrase) => Words.Say(phrase);
}
