using System.Collections.Immutable;
using Tussock.Records;
using Tussock.Survival;

namespace Tussock.Results;

/// <summary>What a change of the records did to the answer, from where to where, in sentences.</summary>
public static class WhatMoved
{
    /// <summary>Compares two answers of one season.</summary>
    /// <param name="before">The answer before the change.</param>
    /// <param name="after">The answer after it.</param>
    /// <returns>The season first, then each verdict's pasture or property: counted share, nests of unknown fate, clump density, verdict; only what moved. Empty when nothing did.</returns>
    public static ImmutableArray<Phrase> Of(SeasonResults before, SeasonResults after)
    {
        var moved = ImmutableArray.CreateBuilder<Phrase>();
        var earlier = before.Verdicts.ToDictionary(Key);
        // A season of one verdict is that verdict.
        if (after.Verdicts.Length != 1) Share(moved, after.Whole.Name, before.Whole, after.Whole);
        foreach (var now in after.Verdicts)
        {
            var name = now.Pasture is null ? now.Property : now.Property + ", " + now.Pasture.Name;
            if (!earlier.TryGetValue(Key(now), out var then))
            {
                moved.Add(Phrase.Of("moved.new", ("name", name), ("verdict", now.Verdict.InWords)));
                continue;
            }

            Share(moved, name, then.Group, now.Group);
            if (then.Density.PerAcre.Value != now.Density.PerAcre.Value) moved.Add(Phrase.Of("moved.density", ("name", name), ("before", Amount(then.Density.PerAcre)), ("after", Amount(now.Density.PerAcre))));
            if (then.Verdict.Kind != now.Verdict.Kind) moved.Add(Phrase.Of("moved.verdict", ("name", name), ("before", then.Verdict.InWords), ("after", now.Verdict.InWords)));
        }

        return moved.ToImmutable();
    }

    private static (string Property, string? Pasture) Key(VerdictRow row) => (row.Property, row.Pasture?.Name);

    private static void Share(ImmutableArray<Phrase>.Builder moved, string name, GroupResults before, GroupResults after)
    {
        if (before.Counts.Intact != after.Counts.Intact || before.Counts.FateKnown != after.Counts.FateKnown || before.Day28.Value != after.Day28.Value)
        {
            moved.Add(Phrase.Of("moved.share", ("name", name), ("before", Counted(before)), ("after", Counted(after))));
        }

        if (before.Counts.Unknown != after.Counts.Unknown) moved.Add(Phrase.Of("moved.unknown", ("name", name), ("before", before.Counts.Unknown), ("after", after.Counts.Unknown)));
    }

    private static Phrase Counted(GroupResults group) => group.Day28.Value is { } share
        ? Phrase.Of("moved.counted", ("intact", group.Counts.Intact), ("known", group.Counts.FateKnown), ("share", share))
        : Phrase.Of("moved.no_share");

    private static Phrase Amount(Estimate perAcre) => perAcre.Value is { } amount ? Phrase.Of("moved.per_acre", ("amount", amount)) : Phrase.Of("moved.no_density");
}
