using System.Collections.Immutable;

namespace Tussock.Evidence.Practice;

/// <summary>An invented nest to practise on, with all that is told once somebody has said what he or she believes.</summary>
/// <param name="Remains">What lies there, in the order of the field sheet; one row a sign.</param>
/// <param name="Truth">Index of the class that it was.</param>
/// <param name="Belief">What the program believes from the remains.</param>
/// <param name="Percents">The same in whole percents that add to 100.</param>
/// <param name="Why">The signs that moved that belief most, in words, the strongest first; empty where none moved it to speak of.</param>
public sealed record PracticeCase(ImmutableArray<SignSeen> Remains, int Truth, Belief Belief, ImmutableArray<int> Percents, ImmutableArray<Phrase> Why);
