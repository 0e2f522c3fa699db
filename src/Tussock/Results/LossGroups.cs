using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>What a group of losses is put together by.</summary>
public enum LossLevel
{
    /// <summary>All losses of the season.</summary>
    Season,

    /// <summary>A property, where there are several.</summary>
    Property,

    /// <summary>A pasture.</summary>
    Pasture,

    /// <summary>A cover class.</summary>
    Cover,

    /// <summary>A year.</summary>
    Year,

    /// <summary>The fortnight in which the nest was lost.</summary>
    Fortnight,
}

/// <summary>A group of losses and what it is made of.</summary>
/// <param name="Level">What it is put together by.</param>
/// <param name="Name">Its name; of a fortnight first, second or not_known.</param>
/// <param name="Property">Property; null where the group crosses properties.</param>
/// <param name="Composition">Shares by class.</param>
public sealed record LossGroup(LossLevel Level, string Name, string? Property, Composition Composition);

/// <summary>By how much a class has a greater share of the losses in one group than in the group it is held against.</summary>
/// <param name="Group">The group.</param>
/// <param name="Against">The group of the same level that it is held against: the first with enough confirmed losses.</param>
/// <param name="Culprit">Token of the class.</param>
/// <param name="Difference">Difference of the shares from cameras, with limits.</param>
public sealed record LossDifference(LossGroup Group, LossGroup Against, string Culprit, Estimate Difference);

/// <summary>The losses of a season in groups.</summary>
internal static class LossGroups
{
    internal static ImmutableArray<LossGroup> Of(Season season, SeasonFates fates, ImmutableArray<LossEvidence> rows, IReadOnlyList<OtherSeason> others, bool areDrawn, ulong seed, CancellationToken cancel)
    {
        var spans = fates.Spans;
        var groups = new List<(LossLevel Level, string Name, string? Property, IEnumerable<NestEvidence> Nests, bool Drawn)>();
        void Add(LossLevel level, string name, string? property, Func<LossEvidence, bool> isIn) => groups.Add((level, name, property, [.. rows.Where(isIn).Select(r => r.Evidence)], areDrawn));
        Add(LossLevel.Season, season.Settings.Name, null, _ => true);
        var properties = season.Pastures.Select(p => p.Property).Distinct(StringComparer.Ordinal).ToArray();
        if (properties.Length > 1) foreach (var property in properties) Add(LossLevel.Property, property, property, r => r.Fate.Nest.Transect.Pasture.Property == property);
        var byPasture = rows.ToLookup(r => spans.Pasture[r.Row]);
        for (var i = 0; i < season.Pastures.Length; i++) groups.Add((LossLevel.Pasture, season.Pastures[i].Name, season.Pastures[i].Property, byPasture[i].Select(r => r.Evidence), areDrawn));
        for (var c = 0; c < spans.CoverNames.Length; c++) Add(LossLevel.Cover, spans.CoverNames[c], null, r => spans.Cover[r.Row] == c);
        Years(season, rows, others, areDrawn, groups);
        foreach (var (name, isIn) in ((string, Func<LossEvidence, bool>)[])[("first", r => r.Fate.Day14 == FateAt.Lost), ("second", r => r.Fate.Day14 == FateAt.Survived), ("not_known", r => r.Fate.Day14 == FateAt.Unknown)]) Add(LossLevel.Fortnight, name, null, isIn);
        var made = new LossGroup[groups.Count];
        Ordered.For(made.Length, i => made[i] = new LossGroup(groups[i].Level, groups[i].Name, groups[i].Property, Composition.Of(groups[i].Nests, SignCatalogue.Standard, groups[i].Drawn, seed)), cancel);
        return ImmutableArray.Create(made);
    }

    /// <summary>Each group with enough confirmed losses against the first such group of its level, for each class that a camera saw in either.</summary>
    internal static ImmutableArray<LossDifference> Differences(ImmutableArray<LossGroup> groups)
    {
        var found = ImmutableArray.CreateBuilder<LossDifference>();
        foreach (var level in groups.Where(g => g.Composition.Confirmed >= Composition.FewestConfirmed && g.Name != "not_known").GroupBy(g => g.Level))
        {
            var first = level.First();
            foreach (var group in level.Skip(1))
            {
                foreach (var (share, other) in group.Composition.Shares.Zip(first.Composition.Shares))
                {
                    if (share.Share.Value > 0 || other.Share.Value > 0) found.Add(new LossDifference(group, first, share.Culprit, ShareDifference.Of(share.Share, other.Share)));
                }
            }
        }

        return found.ToImmutable();
    }

    /// <summary>Years: of pooled seasons by the year of the transect; of one season beside others, each as a whole.</summary>
    private static void Years(Season season, ImmutableArray<LossEvidence> rows, IReadOnlyList<OtherSeason> others, bool areDrawn, List<(LossLevel, string, string?, IEnumerable<NestEvidence>, bool)> groups)
    {
        if (season.Tables.Pooled is { } pooled)
        {
            foreach (var year in pooled.Years) groups.Add((LossLevel.Year, year, null, rows.Where(r => r.Fate.Nest.Transect.Source.Text(PooledYears.Column) == year).Select(r => r.Evidence), areDrawn));
            return;
        }

        if (others.Count == 0) return;
        var years = others.Select(o => (Label: SeasonPooling.Label(o.Season.Settings), o.Season.Settings.Name, Nests: o.Losses.Select(l => l.Evidence), Drawn: Culprits.AreCamerasDrawn(o.Season)))
            .Append((Label: SeasonPooling.Label(season.Settings), season.Settings.Name, Nests: rows.Select(r => r.Evidence), Drawn: areDrawn)).ToArray();
        foreach (var year in years.OrderBy(y => y.Label, StringComparer.Ordinal).ThenBy(y => y.Name, StringComparer.Ordinal)) groups.Add((LossLevel.Year, years.Count(y => y.Label == year.Label) > 1 ? year.Name : year.Label, null, year.Nests, year.Drawn));
    }
}
