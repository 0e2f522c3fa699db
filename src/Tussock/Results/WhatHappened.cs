using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>What happened to the land while the nests were out, as far as it can speak for losses that are not depredation.</summary>
internal static class WhatHappened
{
    internal static ImmutableArray<Phrase> Said(Season season, GroupResults group, Pasture? pasture)
    {
        var said = ImmutableArray.CreateBuilder<Phrase>();
        if (FirstSetOn(group) is not { } start) return [];
        foreach (var e in season.Events.OrderBy(e => e.From).ThenBy(e => e.Kind, StringComparer.Ordinal))
        {
            if (e.From is not { } from || !Concerns(e, group.Property!, pasture) || Subject(e.Kind) is not { } causes) continue;
            var day = from.DayNumber - start.DayNumber;
            if (day < 0 || day > season.Settings.TrialDays + season.Settings.WindowDays || !group.Fates.Any(f => f.IsLost && causes.Contains(f.Cause))) continue;
            said.Add(Sentence(e, from, day));
        }

        return said.ToImmutable();
    }

    private static DateOnly? FirstSetOn(GroupResults group) => group.Fates.IsEmpty ? null : group.Fates.Min(f => f.Nest.SetOn);

    private static bool Concerns(LandEvent e, string property, Pasture? pasture) =>
        (e.Property.Length == 0 || e.Property == property) && (e.Pasture.Length == 0 || pasture is null || e.Pasture == pasture.Name);

    private static Cause[]? Subject(string kind) => kind switch
    {
        "livestock_in" => [Cause.Trampled, Cause.Livestock],
        "rain" or "flood" => [Cause.Flooded],
        "hail" => [Cause.Hail],
        "burn" => [Cause.Burned],
        "mow" => [Cause.MownOrDriven],
        _ => null,
    };

    private static Phrase Sentence(LandEvent e, DateOnly from, int day) => e is { Kind: "livestock_in", Amount: { } head }
        ? Phrase.Of("happened.head_came_in", ("count", (int)head), ("day", day), ("date", from))
        : Phrase.Of("happened." + e.Kind, ("day", day), ("date", from));
}
