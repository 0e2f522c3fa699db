using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Survival;

namespace Tussock.Results;

/// <summary>Every survival estimate of one group of nests. Shares and chances are in [0, 1].</summary>
public sealed record GroupResults
{
    /// <summary>What the group is.</summary>
    public required GroupLevel Level { get; init; }

    /// <summary>Name of the group: season, pasture, transect or cover class; "pasture, cover" for both.</summary>
    public required string Name { get; init; }

    /// <summary>Property; null where the group crosses properties.</summary>
    public string? Property { get; init; }

    /// <summary>Pasture; null where the group crosses pastures.</summary>
    public string? Pasture { get; init; }

    /// <summary>Cover class; null where the group crosses classes.</summary>
    public string? Cover { get; init; }

    /// <summary>Year; null where the group crosses years, and in a season of its own.</summary>
    public string? Year { get; init; }

    /// <summary>The nests themselves, in columns.</summary>
    public required NestSpans Spans { get; init; }

    /// <summary>Lines with a nest that a visit after day 0 found intact or lost.</summary>
    public int Lines { get; init; }

    /// <summary>The fates themselves, row by row as in <see cref="Spans"/>.</summary>
    public required ImmutableArray<NestFate> Fates { get; init; }

    /// <summary>Counts of fates at the end of the trial.</summary>
    public required FateCounts Counts { get; init; }

    /// <summary>Counted share surviving to the first check.</summary>
    public required Estimate Day14 { get; init; }

    /// <summary>Counted share surviving to the end of the trial: the headline.</summary>
    public required Estimate Day28 { get; init; }

    /// <summary>Survival to the end of the trial, averaged over lines, from the model of the chance.</summary>
    public required Estimate Day28Posterior { get; init; }

    /// <summary>Survival if only predation existed and causes were unrelated.</summary>
    public required Estimate PredationOnly { get; init; }

    /// <summary>The share if every nest of unknown fate had been lost.</summary>
    public required Answer<double> Day28IfUnknownLost { get; init; }

    /// <summary>The share if every nest of unknown fate had survived.</summary>
    public required Answer<double> Day28IfUnknownSurvived { get; init; }

    /// <summary>Constant daily survival.</summary>
    public required Estimate DailySurvival { get; init; }

    /// <summary>Daily survival before and after the first check.</summary>
    public required ImmutableArray<Estimate> DailySurvivalByFortnight { get; init; }

    /// <summary>Two-piece survival to the end of the trial.</summary>
    public required Estimate TwoPieceDay28 { get; init; }

    /// <summary>Why the two-piece estimate must stand beside the counted share; null when it need not.</summary>
    public Phrase? WhyTwoPieceBeside { get; init; }

    /// <summary>Nonparametric curve; a reason at levels that have none.</summary>
    public required Answer<SurvivalCurve> Curve { get; init; }

    /// <summary>Chance that survival is at least the benchmark.</summary>
    public required Answer<double> ChanceAtLeastBenchmark { get; init; }

    /// <summary>The posterior of survival averaged over lines, with the same chance under other priors; a reason where there is none.</summary>
    public required Answer<BenchmarkChance> Posterior { get; init; }
}

/// <summary>Counts of fates at the end of the trial.</summary>
/// <param name="Nests">Nests set and counted.</param>
/// <param name="FateKnown">Nests of known fate.</param>
/// <param name="Intact">Nests that survived.</param>
/// <param name="Depredated">Nests lost to predators.</param>
/// <param name="OtherLoss">Nests lost otherwise.</param>
/// <param name="Unknown">Nests of unknown fate.</param>
public sealed record FateCounts(int Nests, int FateKnown, int Intact, int Depredated, int OtherLoss, int Unknown)
{
    /// <summary>Nests lost.</summary>
    public int Lost => Depredated + OtherLoss;

    /// <summary>Counts the fates of a group at the end of the trial.</summary>
    public static FateCounts Of(NestSpans spans)
    {
        int intact = 0, depredated = 0, other = 0;
        for (var i = 0; i < spans.Count; i++)
        {
            if (spans.Day28[i] == FateAt.Survived) intact++;
            else if (spans.Day28[i] == FateAt.Lost && spans.Cause[i] == Cause.Depredated) depredated++;
            else if (spans.Day28[i] == FateAt.Lost) other++;
        }

        var known = intact + depredated + other;
        return new FateCounts(spans.Count, known, intact, depredated, other, spans.Count - known);
    }
}
