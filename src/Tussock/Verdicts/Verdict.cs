using System.Collections.Immutable;
using Tussock.Fates;

namespace Tussock.Verdicts;

/// <summary>What survival and density together say.</summary>
public enum VerdictKind
{
    /// <summary>Not settled: at least one call is missing.</summary>
    NotEnoughData,

    /// <summary>Cover enough, few losses.</summary>
    Good,

    /// <summary>Thin cover, many losses.</summary>
    CoverLimited,

    /// <summary>Cover enough, many losses.</summary>
    LossesDespiteCover,

    /// <summary>Few losses, thin cover.</summary>
    SurvivalGoodCoverThin,
}

/// <summary>The verdict on a pasture or a property: two calls, never a product of two chances.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed record Verdict
{
    /// <summary>The verdict.</summary>
    public required VerdictKind Kind { get; init; }

    /// <summary>The call on survival; none when nests of unknown fate decide it.</summary>
    public required Call Survival { get; init; }

    /// <summary>The call on clump density.</summary>
    public required Call Density { get; init; }

    /// <summary>Losses by cause.</summary>
    public required LossCounts Losses { get; init; }

    /// <summary>Why, in the order in which it should be read.</summary>
    public required ImmutableArray<Phrase> Because { get; init; }

    /// <summary>General advice, the most careful first.</summary>
    public required ImmutableArray<Phrase> Advice { get; init; }

    /// <summary>Which way survival leans.</summary>
    public Leaning Leaning => Survival.Leaning;

    /// <summary>The verdict in a few words, for example "thin cover, many losses".</summary>
    public Phrase InWords => Phrase.Of("verdict.words." + Token);

    /// <summary>The token of the verdict in results.</summary>
    public string Token => TokenOf(Kind);

    /// <summary>Cover or predators? The verdict from what is known of survival and of clump density.</summary>
    /// <param name="survival">Survival side.</param>
    /// <param name="density">Density side.</param>
    /// <param name="losses">Losses by cause.</param>
    /// <param name="whatHappened">What is on record about the causes ("30 head came in on day 16"), as sentences; may be empty.</param>
    /// <param name="certainty">A certainty that a user asks for instead of the usual one; null: the usual one.</param>
    /// <returns>Always a verdict; with a missing call it is "not enough data" and says what is known, how it leans and what would settle it.</returns>
    /// <remarks>Simulated nests rank places and years; the verdict is about nests that were set, on lines that were walked.</remarks>
    /// <source>Common practice, no source: the two benchmarks and their reading. Thresholds of the calls by simulation.</source>
    /// <check>reference-seasons</check>
    public static Verdict Of(SurvivalSide survival, DensitySide density, LossCounts losses, IReadOnlyList<Phrase> whatHappened, double? certainty = null)
    {
        var survivalCall = survival.Call(certainty);
        var densityCall = Calls.Of(density.Chance, density.Lines, certainty);
        var kind = KindOf(survivalCall.Kind, densityCall.Kind);
        var othersLead = losses.KnownOther > 0 && (losses.OthersMatter || survival.PredationDecides(certainty));
        return new Verdict
        {
            Kind = kind,
            Survival = survivalCall,
            Density = densityCall,
            Losses = losses,
            Because = new Reasons(survival, density, losses, survivalCall, densityCall).Said(kind, othersLead, survival.PredationDecides(certainty), whatHappened),
            Advice = Advices.For(kind, othersLead ? losses.Others.First().Cause : Cause.None),
        };
    }

    /// <summary>The verdict of two calls.</summary>
    public static VerdictKind KindOf(CallKind survival, CallKind density) => (survival, density) switch
    {
        (CallKind.Likely, CallKind.Likely) => VerdictKind.Good,
        (CallKind.Likely, CallKind.Unlikely) => VerdictKind.SurvivalGoodCoverThin,
        (CallKind.Unlikely, CallKind.Likely) => VerdictKind.LossesDespiteCover,
        (CallKind.Unlikely, CallKind.Unlikely) => VerdictKind.CoverLimited,
        _ => VerdictKind.NotEnoughData,
    };

    /// <summary>The token of a verdict in results.</summary>
    public static string TokenOf(VerdictKind kind) => kind switch
    {
        VerdictKind.Good => "good",
        VerdictKind.CoverLimited => "cover_limited",
        VerdictKind.LossesDespiteCover => "losses_despite_cover",
        VerdictKind.SurvivalGoodCoverThin => "survival_good_cover_thin",
        _ => "not_enough_data",
    };
}
