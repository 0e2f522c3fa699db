using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Records;
using Tussock.Survival;

namespace Tussock.Actions;

/// <summary>Survival of one year on the land with the action and on the land without, for a picture.</summary>
/// <param name="Year">Year.</param>
/// <param name="With">Land that has the action in some year of the contrast; null: not surveyed.</param>
/// <param name="Without">Land that never has; null: not surveyed.</param>
public sealed record ActionYear(string Year, Estimate? With, Estimate? Without);

/// <summary>Did it work: pastures with an action against others, before and after.</summary>
/// <remarks>Same season, kind and seed, same bits. May be shared between threads.</remarks>
public sealed record BeforeAfterControl
{
    /// <summary>Weather is no action.</summary>
    private static readonly string[] Weather = ["rain", "hail", "flood"];

    /// <summary>Kind of action, a token of the events.</summary>
    public required string Kind { get; init; }

    /// <summary>Land with the action, before and after.</summary>
    public required ImmutableArray<ActionLand> Treated { get; init; }

    /// <summary>Land without.</summary>
    public required ImmutableArray<ActionLand> Untreated { get; init; }

    /// <summary>Years in the contrast.</summary>
    public required ImmutableArray<string> Years { get; init; }

    /// <summary>Survival to the end of the trial with minus without the action, averaged over lines, where and when it was taken.</summary>
    public required Estimate Effect { get; init; }

    /// <summary>Hazard with the action as a multiple of that without: below 1 it helped.</summary>
    public required Estimate HazardRatio { get; init; }

    /// <summary>Chance that the action raised survival.</summary>
    public required Answer<double> ChanceRaised { get; init; }

    /// <summary>The action as if taken elsewhere or earlier.</summary>
    public required ActionPlacebo Placebo { get; init; }

    /// <summary>The second answer: difference of changes, one number a piece of land.</summary>
    public required Estimate Changes { get; init; }

    /// <summary>Survival by year, for the picture.</summary>
    public required ImmutableArray<ActionYear> ByYear { get; init; }

    /// <summary>What must be said before any number.</summary>
    public required ImmutableArray<Phrase> First { get; init; }

    /// <summary>What must hold for the numbers to mean anything.</summary>
    public required ImmutableArray<Phrase> MustHold { get; init; }

    /// <summary>What else must be said: nests left out, years that were done differently, care.</summary>
    public required ImmutableArray<Phrase> Cautions { get; init; }

    /// <summary>Whether land of more than one property is in it, so that pastures are named with theirs.</summary>
    public bool HasSeveralProperties => Treated.Concat(Untreated).Select(l => l.Property).Distinct(StringComparer.Ordinal).Count() > 1;

    /// <summary>Kinds of actions that the events of a season hold, in alphabetical order; weather is not among them.</summary>
    public static ImmutableArray<string> Kinds(Season pooled)
    {
        ArgumentNullException.ThrowIfNull(pooled);
        return [.. pooled.Events.Select(e => e.Kind).Where(k => k.Length > 0 && !Weather.Contains(k)).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];
    }

    /// <summary>Did an action change survival beyond what changed without it?</summary>
    /// <param name="pooled">Seasons of several years put together.</param>
    /// <param name="kind">Kind of action, a token of the events.</param>
    /// <param name="options">Level, seed, progress; null: the usual.</param>
    /// <returns>The contrast; a reason when no land has seasons before and after such an action, or none is without it.</returns>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    /// <remarks>
    /// A pasture has the action from the first season whose set-out is after its date. Limits and chance know lines and nests; luck that a pasture has in one year they can't know: that is what <see cref="Changes"/> and <see cref="Placebo"/> are for.
    /// Cost: one grouped fit, and one fit without groups a placebo run.
    /// </remarks>
    /// <source>Stewart-Oaten, Murdoch and Parker 1986, Ecology 67, 929–940 (from memory, to be confirmed).</source>
    /// <check>before-after-control</check>
    public static Answer<BeforeAfterControl> Of(Season pooled, string kind, ActionOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(pooled);
        options ??= new ActionOptions();
        ShareRange.RequireLevel(options.Level);
        var found = ActionLands.Of(pooled, SeasonFates.Of(pooled), kind);
        if (!found.HasValue) return new NoAnswer(found.Why);
        var lands = found.Value;
        var fit = ActionFit.Of(lands.Nests, options.Level);
        var changes = ActionChanges.Of(lands.Nests, options.Level);
        var effect = fit.HasValue ? fit.Value.Difference : Estimate.None(ActionFit.DifferenceMethod, fit.Why) with { Level = options.Level };
        var placebo = ActionPlacebo.Of(lands, options);
        return new BeforeAfterControl
        {
            Kind = kind,
            Treated = lands.Treated,
            Untreated = lands.Untreated,
            Years = lands.Years,
            Effect = effect,
            HazardRatio = fit.HasValue ? fit.Value.Ratio : Estimate.None(ActionFit.RatioMethod, fit.Why) with { Level = options.Level },
            ChanceRaised = fit.HasValue ? fit.Value.ChanceRaised : new NoAnswer(fit.Why),
            Placebo = placebo,
            Changes = changes,
            ByYear = ByYears(lands, options.Level),
            First = ActionSentences.First(lands),
            MustHold = ActionSentences.MustHold(kind),
            Cautions = ActionSentences.Cautions(pooled, kind, lands, effect, changes),
        };
    }

    private static ImmutableArray<ActionYear> ByYears(ActionLands lands, double level)
    {
        var nests = lands.Nests;
        Estimate? Share(int year, bool isTreated)
        {
            var own = nests.Nests.Where(r => nests.Year[r] == year && lands.Units[nests.Unit[r]].FromYear is not null == isTreated);
            return own.Count == 0 ? null : CountedShare.Of(own, nests.Trial, TrialDay.End, level).Share;
        }

        return [.. lands.Years.Select((label, y) => new ActionYear(label, Share(y, true), Share(y, false)))];
    }
}
