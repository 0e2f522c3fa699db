using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>What is in no count, or in the counts without a known fate, and why.</summary>
public sealed record LeftOut
{
    /// <summary>Nests planned and not set out.</summary>
    public required int Planned { get; init; }

    /// <summary>Stations without a suitable clump.</summary>
    public required int NoClump { get; init; }

    /// <summary>Stations where no nest was set.</summary>
    public required int NotSet { get; init; }

    /// <summary>Extra nests, which the headline leaves out.</summary>
    public required int Extra { get; init; }

    /// <summary>Nests found lost on the day of set-out or before: in no count.</summary>
    public required int LostOnSetOut { get; init; }

    /// <summary>Nests never visited after set-out.</summary>
    public required int NeverVisited { get; init; }

    /// <summary>Nests not relocated and of unknown fate.</summary>
    public required int NotRelocated { get; init; }

    /// <summary>Nests first found lost too late to tell their fate at the end of the trial.</summary>
    public required int FoundLostLate { get; init; }

    /// <summary>Nests whose watching ended without a loss: spoiled eggs, crew, people.</summary>
    public required int EndedWithoutLoss { get; init; }

    /// <summary>Reasons written for nests not relocated, as written, with the number of visits; the commonest first, ties in ordinal order.</summary>
    public required ImmutableArray<(string Reason, int Visits)> NotFoundBecause { get; init; }

    /// <summary>What a season leaves out.</summary>
    public static LeftOut Of(SeasonResults results)
    {
        var (season, fates) = (results.Season, results.Fates);
        var open = fates.Rows.Where(f => f.Day28 == FateAt.Unknown).ToArray();
        var reasons = season.Visits.Where(v => v.Finding == Finding.NotRelocated).Select(v => v.Source.Text("not_found_because").Trim()).Where(r => r.Length > 0);
        return new LeftOut
        {
            Planned = fates.PlannedNests,
            NoClump = season.Nests.Count(n => n.Status == StationStatus.NoClump),
            NotSet = season.Nests.Count(n => n.Status == StationStatus.NotSet),
            Extra = season.Nests.Count(n => n.Status == StationStatus.Extra),
            LostOnSetOut = fates.Nests.Count(f => !f.IsCounted),
            NeverVisited = fates.Rows.Count(f => f.Visits == 0),
            NotRelocated = open.Count(f => f.IsNotRelocated),
            FoundLostLate = open.Count(f => f.IsLost),
            EndedWithoutLoss = fates.Rows.Count(f => f.EndedBy is not null),
            NotFoundBecause = [.. reasons.GroupBy(r => r, StringComparer.Ordinal).Select(g => (g.Key, g.Count())).OrderByDescending(g => g.Item2).ThenBy(g => g.Key, StringComparer.Ordinal)],
        };
    }
}
