using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Simulation;

namespace Tussock.Planning.Practice;

/// <summary>What a student decides before anybody walks an invented season.</summary>
/// <param name="Lines">Lines.</param>
/// <param name="Nests">Nests on each.</param>
/// <param name="FirstCheck">Day of the first check; the second is the last day of the trial.</param>
/// <param name="HasBelts">Whether clumps are counted along the lines, so that cover can be told from losses.</param>
public sealed record PracticeDesign(int Lines, int Nests, int FirstCheck = 14, bool HasBelts = true)
{
    /// <summary>Most lines, and most nests a line.</summary>
    public const int Most = 30;

    /// <summary>Last day of the first check: a week before the trial ends.</summary>
    public const int LatestFirstCheck = 21;

    /// <summary>Its trial: the usual one but for the first check.</summary>
    public Trial Trial => Trial.Usual with { FirstCheck = FirstCheck };

    /// <summary>What is judged.</summary>
    public SeasonDesign Judged => new(Lines, Nests);

    /// <summary>The same with twice the lines.</summary>
    public SeasonDesign Doubled => new(2 * Lines, Nests);

    /// <summary>What is wrong with it, each in a sentence; none when it can be walked.</summary>
    public ImmutableArray<Phrase> Wrong()
    {
        var wrong = ImmutableArray.CreateBuilder<Phrase>();
        Whole("transects", Lines, Most);
        Whole("nests", Nests, Most);
        Whole("first-check", FirstCheck, LatestFirstCheck);
        return wrong.ToImmutable();

        void Whole(string option, int found, int most)
        {
            if (found < 1 || found > most) wrong.Add(Phrase.Of("power.wrong.whole", ("option", option), ("found", found), ("most", most)));
        }
    }
}
