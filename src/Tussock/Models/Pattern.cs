using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Models;

/// <summary>A nest that survival is predicted for, in plain words: "cover=shrub,clumps_per_acre=250". Effects that are not named are as on the season's typical nest.</summary>
/// <param name="Set">Effects and their values as text, each effect once.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record Pattern(ImmutableArray<(string Effect, string Value)> Set)
{
    /// <summary>The season's typical nest.</summary>
    public static Pattern Typical { get; } = new([]);

    /// <summary>Reads "name=value" separated by commas.</summary>
    /// <returns>The pattern; a reason when a part has no value or an effect stands twice.</returns>
    public static Answer<Pattern> Read(string text)
    {
        var set = ImmutableArray.CreateBuilder<(string, string)>();
        foreach (var item in text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            var cut = item.IndexOf('=', StringComparison.Ordinal);
            if (cut <= 0 || cut == item.Length - 1) return NoAnswer.Because("model_choice.pattern_wrong", ("found", item));
            var name = item[..cut].Trim();
            if (set.Any(s => s.Item1 == name)) return NoAnswer.Because("model_choice.pattern_twice", ("name", name));
            set.Add((name, item[(cut + 1)..].Trim()));
        }

        return new Pattern(set.ToImmutable());
    }

    /// <summary>The pattern with one more effect set.</summary>
    public Pattern With(string effect, string value) => new(Set.Add((effect, value)));

    /// <summary>The pattern with a number set.</summary>
    public Pattern With(string effect, double value) => With(effect, value.ToString("R", System.Globalization.CultureInfo.InvariantCulture));

    /// <summary>The pattern without effects that a design lacks.</summary>
    public Pattern For(ModelDesign design) => new([.. Set.Where(s => design.Choice.Effects.Contains(s.Effect))]);

    /// <summary>The effects of a design on the nest of this pattern, row 0, in the design's order.</summary>
    /// <returns>The effects; a reason when a name is no effect of the model, a class is not on record, or a number can't be read.</returns>
    public Answer<ImmutableArray<Effect>> On(ModelDesign design)
    {
        foreach (var (name, _) in Set) if (!design.Choice.Effects.Contains(name)) return NoAnswer.Because("model_choice.pattern_unknown", ("name", name), ("choice", design.Choice.ToString()));
        var effects = ImmutableArray.CreateBuilder<Effect>();
        foreach (var effect in design.Effects)
        {
            var (name, value) = Set.FirstOrDefault(s => s.Effect == effect.Name);
            if (name is null) effects.Add(effect.Typical(design.Nests));
            else if (Number(effect, value) is { } number) effects.Add(new NestEffect([number]) { Name = effect.Name, Levels = effect.Levels });
            else return effect.IsNumber ? NoAnswer.Because("model_choice.pattern_number", ("name", name), ("found", value)) : NoAnswer.Because("model_choice.pattern_class", ("name", name), ("found", value), ("classes", effect.Levels));
        }

        return effects.ToImmutable();
    }

    private static double? Number(Effect effect, string value)
    {
        if (effect.IsNumber) return Cell.Number(value);
        var level = effect.Levels.IndexOf(value);
        return level < 0 ? null : level;
    }
}
