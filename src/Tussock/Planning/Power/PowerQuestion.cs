using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Simulation;
using Tussock.Verdicts;

namespace Tussock.Planning.Power;

/// <summary>What is asked of a design before anyone walks.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed record PowerQuestion
{
    /// <summary>Most lines and nests a line that are invented.</summary>
    public const int MostLines = 200, MostNests = 200;

    /// <summary>Most seasons.</summary>
    public const int MostSeasons = 1_000_000;

    /// <summary>Pastures of the property, each with the same design.</summary>
    public int Pastures { get; init; } = 1;

    /// <summary>Lines in each pasture and nests on each line.</summary>
    public SeasonDesign Design { get; init; } = new(12, 12);

    /// <summary>What is true there.</summary>
    public SeasonTruth Truth { get; init; } = new();

    /// <summary>Whether clump density is asked about: then there are verdicts, else calls on survival alone.</summary>
    public bool HasDensity { get; init; }

    /// <summary>Benchmark of survival, in (0, 1).</summary>
    public double SurvivalBenchmark { get; init; } = 0.5;

    /// <summary>Benchmark of density, clumps an acre.</summary>
    public double DensityBenchmark { get; init; } = 300;

    /// <summary>A certainty asked for instead of the usual one; null: the usual one.</summary>
    public double? Certainty { get; init; }

    /// <summary>Check days and window.</summary>
    public Trial Trial { get; init; } = Trial.Usual;

    /// <summary>Invented seasons.</summary>
    public int Seasons { get; init; } = 1000;

    /// <summary>Seed of chance.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Whether pastures are judged one by one or together, by the rule of verdicts.</summary>
    public JudgedBy JudgedBy => Judging.Of(null, Enumerable.Repeat(Design.Lines, Pastures));

    /// <summary>The design of what is judged: one pasture, or all pastures together.</summary>
    public SeasonDesign Judged => JudgedBy == JudgedBy.Pasture ? Design : Design with { Lines = Design.Lines * Pastures };

    /// <summary>What is wrong with the question, each in a sentence; none when it can be answered.</summary>
    public ImmutableArray<Phrase> Wrong()
    {
        var wrong = ImmutableArray.CreateBuilder<Phrase>();
        Whole("pastures", Pastures, MostLines);
        Whole("transects", Design.Lines, MostLines);
        Whole("nests", Design.Nests, MostNests);
        Whole("seasons", Seasons, MostSeasons);
        if (Pastures >= 1 && Design.Lines >= 1 && (long)Pastures * Design.Lines > MostLines) wrong.Add(Phrase.Of("power.wrong.lines_together", ("lines", (long)Pastures * Design.Lines), ("most", MostLines)));
        Number("survival", Truth.Survival, 0.001, 0.999);
        Number("benchmark", SurvivalBenchmark, 0.01, 0.99);
        Number("transect-sd", Truth.LineSd, 0, 3);
        Number("early-share", Truth.EarlyShare, 0, 1);
        Number("not-relocated", Truth.NotRelocated, 0, 0.95);
        Number("lost-not-relocated", Truth.LostNotRelocated, 0, 0.95);
        Number("late-days", Truth.LateDays, 0, 14);
        Number("clumps-per-acre", Truth.PerAcre, 1, 20_000);
        Number("clumps-benchmark", DensityBenchmark, 1, 20_000);
        Number("density-cv", Truth.DensityCv, 0, 3);
        if (Certainty is { } c) Number("certainty", c, 0.501, 0.999);
        return wrong.ToImmutable();

        void Whole(string option, int found, int most)
        {
            if (found < 1 || found > most) wrong.Add(Phrase.Of("power.wrong.whole", ("option", option), ("found", found), ("most", most)));
        }

        void Number(string option, double found, double least, double most)
        {
            if (!(found >= least && found <= most)) wrong.Add(Phrase.Of("power.wrong.number", ("option", option), ("found", found), ("least", least), ("most", most)));
        }
    }
}
