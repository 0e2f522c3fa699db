using System.Collections.Immutable;

namespace Tussock.Desk;

/// <summary>A sheet of somebody's own between reading it and taking it in: what it has, what was answered, what it becomes.</summary>
public sealed record OldSheetShown
{
    /// <summary>Under what it is kept meanwhile.</summary>
    public required string Token { get; init; }

    /// <summary>Name of the file.</summary>
    public required string File { get; init; }

    /// <summary>Its columns: heading, values for example, what it is said to be.</summary>
    public required ImmutableArray<(string Heading, string Samples, string Meaning)> Columns { get; init; }

    /// <summary>What a column can be said to be.</summary>
    public required ImmutableArray<string> Meanings { get; init; }

    /// <summary>The codes with what they are said to mean.</summary>
    public required ImmutableArray<(string Code, string Means)> Codes { get; init; }

    /// <summary>What a code can be said to mean.</summary>
    public required ImmutableArray<string> Choices { get; init; }

    /// <summary>Name of the season, year, property, pasture and date of set-out as they were typed.</summary>
    public required (string Season, string Year, string Property, string Pasture, string SetOn) Asked { get; init; }

    /// <summary>Whether the answers are those of an earlier sheet.</summary>
    public bool IsKept { get; init; }

    /// <summary>What keeps it from being taken.</summary>
    public ImmutableArray<Phrase> Wrong { get; init; } = [];

    /// <summary>What it becomes; null while that is not known.</summary>
    public Phrase? Becomes { get; init; }

    /// <summary>What was assumed or left out.</summary>
    public ImmutableArray<Phrase> Notes { get; init; } = [];

    /// <summary>The sheet's own totals, each with whether it agrees; null when it can't be compared.</summary>
    public ImmutableArray<(Phrase What, bool? Agrees)> Totals { get; init; } = [];
}
