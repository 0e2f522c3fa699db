using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Reports.Sheets;

/// <summary>The way back to a nest in the words of whoever set it out: steps and direction from its flag.</summary>
internal static class WayWords
{
    /// <summary>The way from the flag, turned round where the direction was read at the nest; both ways where nobody wrote which; null where nothing was written.</summary>
    internal static Phrase? Of(Nest nest, Catalogue words)
    {
        if (Leg(nest, "steps", "direction") is not { } first) return null;
        ImmutableArray<Walked> legs = Leg(nest, "steps_2", "direction_2") is { } second ? [first, second] : [first];
        ImmutableArray<Walked> back = [.. legs.Reverse().Select(l => new Walked(l.Steps, l.Direction.Back))];
        var north = words.Say(nest.Source.Token("north") == "true" ? "sheets.way_true" : "sheets.way_compass");
        var sense = nest.Source.Token("direction_sense");
        return sense.Length == 0
            ? Phrase.Of("sheets.way_either", ("way", Say(legs, words)), ("other", Say(back, words)), ("flag", nest.Number), ("north", north))
            : Phrase.Of("sheets.way_back", ("way", Say(sense == "nest_to_flag" ? back : legs, words)), ("flag", nest.Number), ("north", north));
    }

    private static Walked? Leg(Nest nest, string steps, string direction) =>
        nest.Source.Number(steps) is > 0 and var count && Direction.Parse(nest.Source.Text(direction)) is { } where ? new Walked(count, where) : null;

    private static string Say(ImmutableArray<Walked> legs, Catalogue words) => string.Join(words.Say("sheets.way_then"), legs.Select(l =>
        words.Say(Phrase.Of("sheets.way_leg", ("steps", Numbers.Short(l.Steps)), ("direction", l.Direction.IsPoint ? l.Direction.Point : Numbers.Short(l.Direction.Degrees) + "°")))));

    private readonly record struct Walked(double Steps, Direction Direction);
}
