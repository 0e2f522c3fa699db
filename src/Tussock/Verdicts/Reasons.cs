using System.Collections.Immutable;

namespace Tussock.Verdicts;

/// <summary>The sentences behind a verdict, in reading order.</summary>
internal sealed record Reasons(SurvivalSide Survival, DensitySide Density, LossCounts Losses, Call SurvivalCall, Call DensityCall)
{
    /// <summary>Causes first where they matter, then what is called, then what is missing and what it would take, then cover seen on the way, then what it may mean.</summary>
    public ImmutableArray<Phrase> Said(VerdictKind kind, bool othersLead, bool predationDecides, IReadOnlyList<Phrase> whatHappened)
    {
        var said = ImmutableArray.CreateBuilder<Phrase>();
        if (othersLead) said.AddRange(Causes(predationDecides, whatHappened));
        said.AddRange(Made());
        said.AddRange(MissingSurvival());
        said.AddRange(MissingDensity());
        said.AddRange(SurvivalCall.Notes.AddRange(DensityCall.Notes).Distinct());
        if (!Density.StationsWithoutClump.IsEmpty)
        {
            said.Add(Phrase.Of("verdict.no_clump", ("count", Density.StationsWithoutClump.Length), ("stations", Density.StationsWithoutClump)));
        }

        if (kind != VerdictKind.NotEnoughData) said.Add(Phrase.Of((othersLead ? "verdict.may.others." : "verdict.may.") + Verdict.TokenOf(kind)));
        return said.ToImmutable();
    }

    private IEnumerable<Phrase> Causes(bool predationDecides, IReadOnlyList<Phrase> whatHappened)
    {
        foreach (var (cause, count) in Losses.Others)
        {
            yield return Phrase.Of("verdict.lost_to", ("count", count), ("all", Losses.All), ("cause", Phrase.Of("verdict.cause." + LossCounts.Token(cause))));
        }

        foreach (var story in whatHappened) yield return story;
        if (predationDecides) yield return Phrase.Of("verdict.predation_only_differs");
    }

    private IEnumerable<Phrase> Made()
    {
        if (SurvivalCall.IsMade) yield return Called("verdict.survival.", SurvivalCall, Survival.Benchmark);
        if (DensityCall.IsMade) yield return Called("verdict.density.", DensityCall, Density.BenchmarkPerAcre);
    }

    private IEnumerable<Phrase> MissingSurvival()
    {
        if (SurvivalCall.IsMade) yield break;
        yield return Phrase.Of("verdict.survival.none", ("why", SurvivalCall.Why!));
        if (SurvivalCall.Leaning != Leaning.None) yield return Leans("verdict.survival.leans_", SurvivalCall, Survival.Benchmark);
        if (SurvivalCall.Why!.Key is "verdict.not_found_decide" or "verdict.unknown_decide" || Survival.MoreLines is not { } more) yield break;
        if (!more.HasValue) yield return more.Why;
        else if (Survival.Cost is not { } cost) yield return Phrase.Of("verdict.survival.more_lines", ("lines", more.Value));
        else yield return Phrase.Of("verdict.survival.more_lines_cost", ("lines", more.Value), ("nests", cost.NestsOf(more.Value)), ("eggs", cost.EggsOf(more.Value)), ("days", cost.Days));
    }

    private IEnumerable<Phrase> MissingDensity()
    {
        if (DensityCall.IsMade) yield break;
        yield return Phrase.Of("verdict.density.none", ("why", DensityCall.Why!));
        if (DensityCall.Leaning != Leaning.None) yield return Leans("verdict.density.leans_", DensityCall, Density.BenchmarkPerAcre);
        if (Density.MoreLines is { } more) yield return more.HasValue ? Phrase.Of("verdict.density.more_lines", ("lines", more.Value)) : more.Why;
    }

    private static Phrase Called(string subject, Call call, double benchmark) => Phrase.Of(
        subject + (call.Kind == CallKind.Likely ? "likely" : "unlikely"), ("benchmark", benchmark), ("chance", Chance(call.Chance!.Value)), ("lines", call.Lines));

    private static Phrase Leans(string subject, Call call, double benchmark) => Phrase.Of(
        subject + (call.Leaning == Leaning.Above ? "above" : "below"), ("benchmark", benchmark), ("chance", Chance(call.LeaningChance!.Value)));

    // A rounded "100 %" or "0 %" would promise what no sample can.
    private static Phrase Chance(double chance) => chance switch
    {
        > Calls.NearlyCertain => Phrase.Of("verdict.chance.over_99"),
        < 1 - Calls.NearlyCertain => Phrase.Of("verdict.chance.under_1"),
        _ => Phrase.Of("verdict.chance.about", ("chance", chance)),
    };
}
