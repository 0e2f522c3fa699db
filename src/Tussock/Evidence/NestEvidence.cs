using System.Collections.Immutable;

namespace Tussock.Evidence;

/// <summary>One row of remains: a sign and its value as written.</summary>
/// <param name="Sign">Token of the sign.</param>
/// <param name="Value">Value.</param>
public readonly record struct SignSeen(string Sign, string Value);

/// <summary>What a lost nest shows, and what a camera saw of its loss.</summary>
/// <param name="Line">Index of the flag line.</param>
/// <param name="Signs">Rows of remains, any order; several rows of one sign are legal.</param>
/// <param name="Confirmed">Token of the class that a camera saw taking the eggs; null when none did or it can't be told.</param>
/// <param name="Teaches">Whether its remains may teach the key: not when they were found after a second visitor.</param>
/// <param name="IsLost">Whether the nest was lost.</param>
public sealed record NestEvidence(int Line, ImmutableArray<SignSeen> Signs, string? Confirmed = null, bool Teaches = true, bool IsLost = true);
