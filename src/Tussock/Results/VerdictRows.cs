using System.Collections.Immutable;
using Tussock.Cover;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Records;
using Tussock.Survival;
using Tussock.Verdicts;

namespace Tussock.Results;

/// <summary>The verdict of every pasture, or of every property where a season is judged so.</summary>
internal static class VerdictRows
{
    private const int UsualEggs = 3;

    internal static ImmutableArray<VerdictRow> Of(Season season, ImmutableArray<GroupResults> groups, Belts belts, Trial trial, ResultsOptions options)
    {
        var judged = new List<Judged>();
        var pastures = groups.Where(g => g.Level == GroupLevel.Pasture).ToDictionary(g => (g.Property!, g.Pasture!));
        var units = belts.Units.ToLookup(u => u.Pasture);
        var bare = season.Nests.Where(n => n.Status == StationStatus.NoClump).ToLookup(n => (n.Transect.Pasture.Property, n.Transect.Pasture.Name));
        foreach (var property in season.Pastures.Select((p, i) => (Pasture: p, i)).GroupBy(p => p.Pasture.Property, StringComparer.Ordinal))
        {
            if (JudgedByOf(season.Settings.Judge, property.Select(p => pastures[(property.Key, p.Pasture.Name)].Lines)) == JudgedBy.Property)
            {
                var group = groups.First(g => g.Level == GroupLevel.Property && g.Name == property.Key);
                judged.Add(new Judged(group, null, [.. property.SelectMany(p => units[p.i])], Stations(property.SelectMany(p => bare[(property.Key, p.Pasture.Name)]))));
                continue;
            }

            foreach (var (pasture, i) in property) judged.Add(new Judged(pastures[(property.Key, pasture.Name)], pasture, [.. units[i]], Stations(bare[(property.Key, pasture.Name)])));
        }

        var rows = new VerdictRow[judged.Count];
        Ordered.For(rows.Length, i => rows[i] = Row(season, judged[i], belts, trial, options), options.Cancel);
        return ImmutableArray.Create(rows);
    }

    private static JudgedBy JudgedByOf(Judge chosen, IEnumerable<int> lines) =>
        Judging.Of(chosen switch { Judge.Pasture => JudgedBy.Pasture, Judge.Property => JudgedBy.Property, _ => null }, lines);

    private static VerdictRow Row(Season season, Judged judged, Belts belts, Trial trial, ResultsOptions options)
    {
        var (group, pasture, units, stations) = judged;
        var density = DensityRows.OfAll(units, belts, season.Settings);
        var more = MoreLines(group, options.Certainty);
        var survival = Survival(season.Settings, group, trial) with { MoreLines = more };
        var side = DensitySide.From(density, season.Settings.ClumpsPerAcreBenchmark, options.Certainty) with { StationsWithoutClump = stations };
        var verdict = Verdict.Of(survival, side, LossCounts.From(group.Spans), WhatHappened.Said(season, group, pasture), options.Certainty);
        return new VerdictRow(group.Property!, pasture, group, density, verdict, verdict.Survival.IsMade ? null : more);
    }

    private static SurvivalSide Survival(SeasonSettings settings, GroupResults group, Trial trial)
    {
        var open = group.Fates.Select(f => f is { IsLost: false, EndedBy: null, Day28: FateAt.Unknown }).ToArray();
        var unknown = open.Count(o => o);
        var side = new SurvivalSide
        {
            Chance = group.ChanceAtLeastBenchmark,
            Lines = group.Lines,
            Benchmark = settings.SurvivalBenchmark,
            Unknown = unknown,
            NotFound = group.Fates.Count(f => f.IsNotRelocated && f.Day28 == FateAt.Unknown),
            SearchUntilDay = trial.Days + trial.Window,
            Cost = Cost(group, trial),
        };
        if (group.Counts.OtherLoss > 0) side = side with { ChanceIfOnlyPredation = OpenFates.Chance(PredationOnly.Spans(group.Spans), settings.SurvivalBenchmark, trial) };
        return unknown == 0 ? side : OpenFates.AtBothEnds(side, group.Spans, open, trial);
    }

    private static LineCost? Cost(GroupResults group, Trial trial) =>
        group.Lines == 0 ? null : new LineCost((double)group.Counts.Nests / group.Lines, UsualEggs, group.Day14.Value ?? 1, trial.Days);

    private static Answer<int>? MoreLines(GroupResults group, double? certainty)
    {
        if (!group.Posterior.HasValue) return null;
        return HowManyMore.For(group.Posterior.Value, lines => certainty ?? Calls.CertaintyFor(lines)).Then(more => more.Lines);
    }

    private static ImmutableArray<string> Stations(IEnumerable<Nest> withoutClump) => [.. withoutClump.Select(n => n.Transect.Name + "-" + Words.Numbers.Whole(n.Number))];

    /// <summary>What one verdict is about: its nests, its belts, its stations without a clump.</summary>
    private sealed record Judged(GroupResults Group, Pasture? Pasture, ImmutableArray<BeltUnit> Units, ImmutableArray<string> StationsWithoutClump);
}
