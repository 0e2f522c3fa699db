using Tussock.Words;

namespace Tussock.Actions;

/// <summary>The numbers of a contrast as sentences, the same wherever people read them.</summary>
public static class ActionAnswer
{
    /// <summary>Effect, chance, ratio of hazards, placebo runs, false starts, and the second answer.</summary>
    public static IEnumerable<Phrase> Of(BeforeAfterControl contrast)
    {
        ArgumentNullException.ThrowIfNull(contrast);
        yield return Points(contrast.Effect, "action.effect", "action.effect_bare", "action.effect_none");
        foreach (var note in contrast.Effect.Notes) yield return note;
        if (contrast.ChanceRaised.HasValue) yield return Phrase.Of("action.chance", ("chance", Numbers.Chance(contrast.ChanceRaised.Value)));
        if (contrast.HazardRatio is { Value: { } ratio, Low: { } low, High: { } high }) yield return Phrase.Of("action.ratio", ("ratio", ratio), ("low", low), ("high", high), ("level", contrast.HazardRatio.Level));
        foreach (var phrase in Placebo(contrast.Placebo)) yield return phrase;
        yield return Points(contrast.Changes, "action.changes", "action.changes_bare", "action.changes_none");
    }

    private static IEnumerable<Phrase> Placebo(ActionPlacebo placebo)
    {
        if (!placebo.P.HasValue) yield return Phrase.Of("action.placebo_none", ("why", placebo.P.Why));
        else
        {
            yield return Phrase.Of("action.placebo", ("runs", placebo.Runs), ("as_large", placebo.AsLarge), ("p", placebo.P.Value));
            if (placebo.SmallestP > 0.05) yield return Phrase.Of("action.placebo_few", ("runs", placebo.Runs), ("least", placebo.SmallestP));
        }

        foreach (var (year, ratio) in placebo.Earlier)
            if (ratio is { Value: { } value, Low: { } low, High: { } high }) yield return Phrase.Of(low > 1 || high < 1 ? "action.earlier_moved" : "action.earlier", ("year", year), ("ratio", value), ("low", low), ("high", high));
    }

    private static Phrase Points(Estimate estimate, string whole, string bare, string none) => estimate switch
    {
        { Value: { } value, Low: { } low, High: { } high } => Phrase.Of(whole, ("points", Signed(value)), ("low", Signed(low)), ("high", Signed(high)), ("level", estimate.Level)),
        { Value: { } value } => Phrase.Of(bare, ("points", Signed(value)), ("why", estimate.Why!)),
        _ => Phrase.Of(none, ("why", estimate.Why!)),
    };

    /// <summary>Points of a hundred with their sign.</summary>
    private static string Signed(double share) => Numbers.Fixed(100 * share, 0) is var text && text is "0" || text[0] == '-' ? text.Replace('-', '−') : "+" + text;
}
