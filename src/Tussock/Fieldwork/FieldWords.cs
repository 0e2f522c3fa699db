using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Words;

namespace Tussock.Fieldwork;

/// <summary>A caution and the act at which it is shown.</summary>
/// <param name="Where">The act: start, set_out, eggs, check, remains, real_nest, pick_up, camera.</param>
/// <param name="Text">What to say.</param>
public sealed record FieldCaution(string Where, Phrase Text);

/// <summary>A token of records with its words for people.</summary>
/// <param name="Token">As records spell it.</param>
/// <param name="Name">As people read it.</param>
public sealed record FieldToken(string Token, Phrase Name);

/// <summary>The words that a phone takes along: tappable phrases, tokens to choose from, cautions where the act happens.</summary>
/// <remarks>Common practice, no source. May be shared between threads.</remarks>
public static class FieldWords
{
    /// <summary>Phrases for landmarks, the commonest first.</summary>
    public static ImmutableArray<Phrase> Landmarks { get; } =
    [
        Phrase.Of("field.landmark.lone_tree"), Phrase.Of("field.landmark.fence_post"), Phrase.Of("field.landmark.gate"), Phrase.Of("field.landmark.rock"),
        Phrase.Of("field.landmark.dead_shrub"), Phrase.Of("field.landmark.cactus"), Phrase.Of("field.landmark.trail"), Phrase.Of("field.landmark.ditch"),
        Phrase.Of("field.landmark.bare_ground"), Phrase.Of("field.landmark.mound"), Phrase.Of("field.landmark.north_side"), Phrase.Of("field.landmark.south_side"),
        Phrase.Of("field.landmark.east_side"), Phrase.Of("field.landmark.west_side"),
    ];

    /// <summary>Why a nest was not found.</summary>
    public static ImmutableArray<FieldToken> NotFoundBecause { get; } = Tokens("field.not_found.", ["flag_gone", "directions_unclear", "cover_changed", "washer_gone", "no_time", "not_safe"]);

    /// <summary>Causes of a loss other than by a predator; the last three only end the watching.</summary>
    public static ImmutableArray<FieldToken> OtherLossCauses { get; } = Tokens("field.cause.", ["trampled", "flooded", "burned", "mown_or_driven", "livestock", "hail", "spoiled_in_place", "crew", "person"]);

    /// <summary>The culprit classes that a guess or a camera may name.</summary>
    public static ImmutableArray<FieldToken> Culprits { get; } = Tokens("signs.culprit.", SignCatalogue.Standard.Culprits);

    /// <summary>The cautions, each where its act happens.</summary>
    public static ImmutableArray<FieldCaution> Cautions { get; } =
    [
        new("start", Phrase.Of("field.caution.permission")), new("start", Phrase.Of("field.caution.heat")), new("start", Phrase.Of("field.caution.fire")),
        new("start", Phrase.Of("field.caution.check_in")), new("start", Phrase.Of("field.caution.boots")), new("start", Phrase.Of("field.caution.outbreak")),
        new("set_out", Phrase.Of("field.caution.hands")), new("set_out", Phrase.Of("field.caution.hogs")),
        new("eggs", Phrase.Of("field.caution.gloves")), new("eggs", Phrase.Of("field.caution.phone_away")), new("eggs", Phrase.Of("field.caution.shop_eggs")), new("eggs", Phrase.Of("field.caution.tub")),
        new("check", Phrase.Of("field.caution.hands")),
        new("remains", Phrase.Of("field.caution.near")), new("remains", Phrase.Of("field.caution.droppings")),
        new("real_nest", Phrase.Of("field.caution.real_nest")),
        new("pick_up", Phrase.Of("field.caution.pick_up")), new("pick_up", Phrase.Of("field.caution.tub")),
        new("camera", Phrase.Of("field.caution.camera")),
    ];

    /// <summary>Whether a key of the catalogues belongs to the phone.</summary>
    public static bool IsForPhones(string key) => key.StartsWith("field.", StringComparison.Ordinal) || key.StartsWith("field_app.", StringComparison.Ordinal);


    private static ImmutableArray<FieldToken> Tokens(string prefix, ImmutableArray<string> tokens) => [.. tokens.Select(t => new FieldToken(t, Phrase.Of(prefix + t)))];
}
