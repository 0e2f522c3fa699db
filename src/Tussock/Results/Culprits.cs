using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>Belief over the culprit classes for one depredated nest.</summary>
/// <param name="Fate">The nest and its fate.</param>
/// <param name="Belief">Belief from its remains.</param>
/// <param name="Confirmed">Class that a camera confirmed; null where none did.</param>
/// <param name="Signs">Its remains.</param>
public sealed record NestCulprit(NestFate Fate, Belief Belief, string? Confirmed, ImmutableArray<SignSeen> Signs);

/// <summary>How the depredated nests of a group divide over the culprit classes.</summary>
/// <param name="Level">Season, property or pasture.</param>
/// <param name="Name">Name of the group.</param>
/// <param name="Property">Property; null where the group crosses properties.</param>
/// <param name="Composition">Shares by class.</param>
public sealed record CompositionRow(GroupLevel Level, string Name, string? Property, Composition Composition);

/// <summary>Who was it: beliefs over culprit classes nest by nest, and the composition of the losses to predators.</summary>
public sealed record Culprits(ImmutableArray<NestCulprit> Nests, ImmutableArray<CompositionRow> Compositions, Answer<Scoring> Scoring, BeliefModel Model)
{
    /// <summary>Why a nest is read as it is, sign by sign.</summary>
    public ImmutableArray<SignReason> Why(NestCulprit nest) => BeliefReasons.Why(Model, nest.Signs);

    /// <summary>Whether all cameras stood at nests that were drawn, without regard to fate.</summary>
    internal static bool AreCamerasDrawn(Season season) => !season.Deployments.IsEmpty && season.Deployments.All(d => d.Chosen == "drawn");

    /// <summary>Beliefs and compositions of a season.</summary>
    internal static Culprits Of(Season season, SeasonFates fates, ulong seed)
    {
        var catalogue = SignCatalogue.Standard;
        var rows = LossEvidence.Of(season, fates);
        var model = BeliefModel.Learn(catalogue, rows.Select(r => r.Evidence));
        return new Culprits(
            [.. rows.OrderBy(r => fates.Spans.Transect[r.Row]).ThenBy(r => r.Fate.Nest.Number).Select(r => new NestCulprit(r.Fate, model.Of(r.Evidence.Signs), r.Evidence.Confirmed, r.Evidence.Signs))],
            CompositionRows(season, fates, rows, AreCamerasDrawn(season), seed),
            Evidence.Scoring.LeaveOneOut(catalogue, rows.Select(r => r.Evidence)),
            model);
    }

    private static ImmutableArray<CompositionRow> CompositionRows(Season season, SeasonFates fates, ImmutableArray<LossEvidence> rows, bool drawn, ulong seed)
    {
        var byPasture = rows.ToLookup(r => fates.Spans.Pasture[r.Row], r => r.Evidence);
        var groups = new List<(GroupLevel Level, string Name, string? Property, IEnumerable<NestEvidence> Nests)> { (GroupLevel.Season, season.Settings.Name, null, rows.Select(r => r.Evidence)) };
        foreach (var property in season.Pastures.Select((p, i) => (p.Property, i)).GroupBy(p => p.Property, StringComparer.Ordinal))
        {
            groups.Add((GroupLevel.Property, property.Key, property.Key, property.SelectMany(p => byPasture[p.i])));
        }

        for (var i = 0; i < season.Pastures.Length; i++) groups.Add((GroupLevel.Pasture, season.Pastures[i].Name, season.Pastures[i].Property, byPasture[i]));
        var compositions = new CompositionRow[groups.Count];
        Ordered.For(compositions.Length, i =>
        {
            var (level, name, property, nests) = groups[i];
            compositions[i] = new CompositionRow(level, name, property, Composition.Of(nests, SignCatalogue.Standard, drawn, seed));
        });
        return ImmutableArray.Create(compositions);
    }
}
