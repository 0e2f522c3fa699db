using System.Collections.Immutable;
using Tussock.Records;
using Tussock.Results;
using Tussock.Survival;

namespace Tussock.Years;

/// <summary>What one season says of one pasture, or of a whole property: as much as is needed beside other years and other properties.</summary>
/// <remarks>Plain numbers and texts, so that they can be kept while the season itself is let go. May be shared between threads.</remarks>
public sealed record PastureYear
{
    private const string PiecesMethod = "two-piece survival, clustered by line";

    /// <summary>How the season was done on this land.</summary>
    public required SeasonConduct Conduct { get; init; }

    /// <summary>The property.</summary>
    public required string Property { get; init; }

    /// <summary>The pasture; null: the whole property.</summary>
    public string? Pasture { get; init; }

    /// <summary>Length of the trial, days.</summary>
    public required double TrialDays { get; init; }

    /// <summary>The season's benchmark of survival, a share.</summary>
    public required double Benchmark { get; init; }

    /// <summary>Counts of fates at the end of the trial.</summary>
    public required FateCounts Counts { get; init; }

    /// <summary>The lines, in ordinal order.</summary>
    public required ImmutableArray<LineYear> Lines { get; init; }

    /// <summary>Nests first found lost too late to count, and the day of the last check, where they are too many for a counted share; null: they are not.</summary>
    public (int Nests, double LastCheck)? TooLate { get; init; }

    /// <summary>Nests at which nobody has been around the end of the trial, where they are too many for a counted share: the season is under way, or its last check is missing; null: they are not.</summary>
    public int? NotLookedAt { get; init; }

    /// <summary>Two-piece survival where checks came too late or are missing; null: not needed, or not to be had.</summary>
    public Measured? Pieces { get; init; }

    /// <summary>Clumps an acre; null without a belt.</summary>
    public Measured? PerAcre { get; init; }

    /// <summary>Squared relative error of density that the walkers' own step and span add; 0 when not known.</summary>
    public double WalkersError { get; init; }

    /// <summary>Survival in other cover divided by that in grass on the same transects; null where it can't be had.</summary>
    public Measured? CoverRatio { get; init; }

    /// <summary>Clumps an acre at which other cover and grass survive alike; null where it can't be had.</summary>
    public Measured? Parity { get; init; }

    /// <summary>Nests lost by cause, as tokens, the commonest first.</summary>
    public ImmutableArray<(string Cause, int Nests)> Losses { get; init; } = [];

    /// <summary>Losses whose culprit a camera saw, by class, the commonest first.</summary>
    public ImmutableArray<(string Culprit, int Nests)> Confirmed { get; init; } = [];

    /// <summary>What happened to the land and was written down: kind as a token, first date where known, in order of dates.</summary>
    public ImmutableArray<(string Kind, DateOnly? From)> Events { get; init; } = [];

    /// <summary>The year as it is called.</summary>
    public string Label => Conduct.Label;

    /// <summary>What it is called: property and pasture.</summary>
    public string Land => Pasture is null ? Property : Property + ", " + Pasture;

    /// <summary>Lines with a nest of known fate.</summary>
    public int LinesKnown => Lines.Count(l => l.Known > 0);

    /// <summary>Whether survival is that of two pieces because the last checks came too late, or are missing.</summary>
    public bool IsByPieces => TooLate is not null || NotLookedAt is not null;

    /// <summary>Survival to the end of the trial: counted, or by two pieces where checks came too late or are missing.</summary>
    public Estimate Survival
    {
        get
        {
            if (IsByPieces)
            {
                // Until somebody has been there only the lost ones of the first check are known: counted, nearly all would be lost.
                var why = TooLate is { } late
                    ? Phrase.Of("counted.checked_too_late", ("late", late.Nests), ("nests", Counts.Nests), ("on", TrialDays), ("day", late.LastCheck))
                    : Phrase.Of("years.not_looked_at", ("open", NotLookedAt!.Value), ("nests", Counts.Nests), ("on", TrialDays));
                return Pieces is { } p ? new Estimate { Value = p.Value, Low = p.Low, High = p.High, Method = PiecesMethod, Notes = [why] } : Estimate.None(PiecesMethod, why);
            }

            return Counts.FateKnown > 0 ? CountedShare.OfLines(Lines.Select(l => (l.Survived, l.Known))) : Estimate.None("counted share", Phrase.Of("years.no_fate"));
        }
    }

    /// <summary>Clumps an acre with limits.</summary>
    public Estimate Density => PerAcre is { } d
        ? new Estimate { Value = d.Value, Low = d.Low, High = d.High, Method = Cover.ClumpDensity.BetweenLinesMethod, Why = d.Low is null ? Phrase.Of("years.density_no_limits") : null }
        : Estimate.None(Cover.ClumpDensity.BetweenLinesMethod, Phrase.Of("density.no_belt"));
}

/// <summary>A number with its limits, where it has them.</summary>
/// <param name="Value">The number.</param>
/// <param name="Low">Lower limit.</param>
/// <param name="High">Upper limit.</param>
public readonly record struct Measured(double Value, double? Low, double? High)
{
    /// <summary>The same of an estimate; null where it has no value.</summary>
    public static Measured? Of(Estimate e)
    {
        ArgumentNullException.ThrowIfNull(e);
        return e.Value is { } value ? new Measured(value, e.Low, e.High) : null;
    }
}
