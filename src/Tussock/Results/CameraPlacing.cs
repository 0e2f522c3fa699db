using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>Where cameras stood in one pasture.</summary>
/// <param name="Pasture">The pasture.</param>
/// <param name="Nests">Counted nests.</param>
/// <param name="WithCamera">Those at which a camera stood.</param>
/// <param name="Losses">Depredated nests.</param>
/// <param name="LossesWithCamera">Those of them at which a camera stood.</param>
/// <param name="Confirmed">Those whose culprit a camera saw.</param>
public sealed record CameraRow(Pasture Pasture, int Nests, int WithCamera, int Losses, int LossesWithCamera, int Confirmed);

/// <summary>Where cameras stood and how their nests were chosen.</summary>
/// <param name="Nests">Nests at which a camera stood.</param>
/// <param name="Chosen">How many deployments were chosen in each way: drawn, handy, after_loss, not_written.</param>
/// <param name="Pastures">One row a pasture.</param>
public sealed record CameraPlacing(int Nests, ImmutableArray<(string How, int Deployments)> Chosen, ImmutableArray<CameraRow> Pastures)
{
    private static readonly string[] Ways = ["drawn", "handy", "after_loss"];

    /// <summary>Losses whose culprit a camera saw.</summary>
    public int Confirmed => Pastures.Sum(p => p.Confirmed);

    /// <summary>What has to be said about it.</summary>
    public Phrase InWords =>
        Nests == 0 ? Phrase.Of("signs.cameras.none")
        : Chosen[0].Deployments == Chosen.Sum(c => c.Deployments) ? Phrase.Of("signs.cameras.drawn")
        : Phrase.Of("signs.cameras.not_drawn", ("drawn", Chosen[0].Deployments), ("handy", Chosen[1].Deployments), ("after", Chosen[2].Deployments), ("not_written", Chosen[3].Deployments));

    internal static CameraPlacing Of(Season season, SeasonFates fates, ImmutableArray<LossEvidence> losses)
    {
        var watched = season.Deployments.Select(d => d.Nest).Concat(season.CameraEvents.Select(e => e.Nest)).ToHashSet();
        var chosen = Ways.Select(way => (way, season.Deployments.Count(d => d.Chosen == way))).Append(("not_written", season.Deployments.Count(d => !Ways.Contains(d.Chosen))));
        var nests = fates.Rows.ToLookup(f => f.Nest.Transect.Pasture);
        var lost = losses.ToLookup(l => l.Fate.Nest.Transect.Pasture);
        return new CameraPlacing(watched.Count, [.. chosen], [.. season.Pastures.Select(p => new CameraRow(
            p, nests[p].Count(), nests[p].Count(f => watched.Contains(f.Nest)), lost[p].Count(), lost[p].Count(l => watched.Contains(l.Fate.Nest)), lost[p].Count(l => l.Evidence.Confirmed is not null)))]);
    }
}
