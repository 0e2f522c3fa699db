using System.Collections.Immutable;
using Tussock.Cover;

namespace Tussock.Verdicts;

/// <summary>What the verdict needs to know about survival.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed record SurvivalSide
{
    /// <summary>Chance that 28-day survival is at or above the benchmark, or why there is none.</summary>
    public required Answer<double> Chance { get; init; }

    /// <summary>Lines with a watched nest.</summary>
    public required int Lines { get; init; }

    /// <summary>Benchmark, a share in (0, 1).</summary>
    public double Benchmark { get; init; } = 0.5;

    /// <summary>Nests of unknown fate at day 28, whatever the reason.</summary>
    public int Unknown { get; init; }

    /// <summary>How many of them could not be found.</summary>
    public int NotFound { get; init; }

    /// <summary>Last day on which a second search still counts (trial days + window).</summary>
    public double SearchUntilDay { get; init; } = 31;

    /// <summary>The chance if all nests of unknown fate were lost; null when none is unknown.</summary>
    public Answer<double>? ChanceIfUnknownLost { get; init; }

    /// <summary>The chance if all nests of unknown fate survived; null when none is unknown.</summary>
    public Answer<double>? ChanceIfUnknownSurvived { get; init; }

    /// <summary>The chance with losses other than depredation taken as the end of watching; null when it was not computed.</summary>
    public Answer<double>? ChanceIfOnlyPredation { get; init; }

    /// <summary>How many more lines would likely settle it, or why that can't be said; null when it was not asked.</summary>
    public Answer<int>? MoreLines { get; init; }

    /// <summary>What one more line takes; null when it is not to be said.</summary>
    public LineCost? Cost { get; init; }

    internal Call Call(double? certainty)
    {
        var call = Calls.Of(Chance, Lines, certainty);
        if (!UnknownDecides(certainty)) return call;
        var why = NotFound > 0
            ? Phrase.Of("verdict.not_found_decide", ("nests", NotFound), ("day", SearchUntilDay))
            : Phrase.Of("verdict.unknown_decide", ("nests", Unknown));
        return call with { Kind = CallKind.None, Why = why };
    }

    internal bool UnknownDecides(double? certainty) =>
        ChanceIfUnknownLost is { } lost && ChanceIfUnknownSurvived is { } survived && Calls.Of(lost, Lines, certainty).Kind != Calls.Of(survived, Lines, certainty).Kind;

    internal bool PredationDecides(double? certainty) =>
        ChanceIfOnlyPredation is { HasValue: true } only && Calls.Of(only, Lines, certainty).Kind != Calls.Of(Chance, Lines, certainty).Kind;
}

/// <summary>What the verdict needs to know about clump density.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed record DensitySide
{
    /// <summary>Chance that the density is at or above the benchmark, or why there is none.</summary>
    public required Answer<double> Chance { get; init; }

    /// <summary>Lines with a counted belt.</summary>
    public required int Lines { get; init; }

    /// <summary>Benchmark, clumps an acre.</summary>
    public double BenchmarkPerAcre { get; init; } = 300;

    /// <summary>Stations without a suitable clump within the search rule, as "transect-nest".</summary>
    public ImmutableArray<string> StationsWithoutClump { get; init; } = [];

    /// <summary>How many more lines would likely settle it, or why that can't be said; null when it was not asked.</summary>
    public Answer<int>? MoreLines { get; init; }

    /// <summary>The side of a group's belts.</summary>
    /// <param name="density">Clump density of the classes that count.</param>
    /// <param name="benchmarkPerAcre">The benchmark that its chance was computed with.</param>
    /// <param name="certainty">A certainty that a user asks for instead of the usual one; null: the usual one.</param>
    public static DensitySide From(ClumpDensity density, double benchmarkPerAcre, double? certainty = null) => new()
    {
        Chance = density.ChanceAtLeastBenchmark,
        Lines = density.Lines,
        BenchmarkPerAcre = benchmarkPerAcre,
        MoreLines = MoreBelts.Of(density, benchmarkPerAcre, certainty),
    };
}

/// <summary>What one more line takes.</summary>
/// <param name="Nests">Nests a line.</param>
/// <param name="EggsANest">Eggs a nest.</param>
/// <param name="IntactAtFirstCheck">Share of nests expected intact at the first check, whose eggs are renewed, in [0, 1].</param>
/// <param name="Days">Days of the trial.</param>
public sealed record LineCost(double Nests, int EggsANest = 3, double IntactAtFirstCheck = 1, double Days = 28)
{
    /// <summary>Nests of so many lines.</summary>
    public int NestsOf(int lines) => (int)Math.Ceiling(lines * Nests);

    /// <summary>Eggs of so many lines, without spare ones.</summary>
    public int EggsOf(int lines) => (int)Math.Ceiling(EggsANest * NestsOf(lines) * (1 + IntactAtFirstCheck));
}
