using System.Collections.Immutable;

namespace Tussock.Verdicts;

/// <summary>What can be said about a benchmark.</summary>
public enum CallKind
{
    /// <summary>Nothing clear.</summary>
    None,

    /// <summary>Likely at or above the benchmark.</summary>
    Likely,

    /// <summary>Unlikely to reach the benchmark.</summary>
    Unlikely,
}

/// <summary>Which way a chance leans, called or not.</summary>
public enum Leaning
{
    /// <summary>No way worth a word.</summary>
    None,

    /// <summary>Above the benchmark, from 65 to 35 on.</summary>
    Above,

    /// <summary>Below the benchmark, from 35 to 65 on.</summary>
    Below,
}

/// <summary>Whether survival, or density, is called above or below its benchmark, and why not when it isn't.</summary>
/// <param name="Kind">The call.</param>
/// <param name="Chance">Chance in [0, 1] of being at or above the benchmark; null when there is none.</param>
/// <param name="Lines">Lines behind it.</param>
/// <param name="Certainty">The certainty c that was asked for; null with fewer than four lines.</param>
/// <param name="Why">Why nothing is called; null when something is.</param>
/// <remarks>Equal when all parts are equal. May be shared between threads.</remarks>
public sealed record Call(CallKind Kind, double? Chance, int Lines, double? Certainty, Phrase? Why)
{
    /// <summary>Whether something is called.</summary>
    public bool IsMade => Kind != CallKind.None;

    /// <summary>What must be said beside the call: the error rates of a certainty that a user lowered.</summary>
    public ImmutableArray<Phrase> Notes { get; init; } = [];

    /// <summary>Which way it leans: above from .65, below up to .35.</summary>
    public Leaning Leaning => Chance switch
    {
        >= Calls.LeaningFrom => Leaning.Above,
        <= 1 - Calls.LeaningFrom => Leaning.Below,
        _ => Leaning.None,
    };

    /// <summary>The chance of the side it leans to; null when it leans to none.</summary>
    public double? LeaningChance => Leaning switch
    {
        Leaning.Above => Chance,
        Leaning.Below => 1 - Chance,
        _ => null,
    };
}
