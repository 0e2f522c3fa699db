using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>The effects of one model, chosen in plain words: "cover, fortnight", "cover by clumps_per_acre", "constant".</summary>
/// <param name="Effects">Names of the effects, each once, in the order chosen.</param>
/// <param name="Interactions">Pairs of them whose effects depend on each other.</param>
/// <remarks>Equal when the same effects and interactions stand in the same order. May be shared between threads.</remarks>
public sealed record EffectChoice(ImmutableArray<string> Effects, ImmutableArray<(string First, string Second)> Interactions)
{
    /// <summary>The word for a model without effects.</summary>
    public const string NoEffects = "constant";

    private const string By = " by ";

    /// <summary>A model without effects: one rate for every nest and day.</summary>
    public static EffectChoice Constant { get; } = new([], []);

    /// <summary>Reads names separated by commas; "a by b" is an interaction and brings a and b along.</summary>
    public static EffectChoice Read(string text)
    {
        var choice = Constant;
        foreach (var item in text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            if (item == NoEffects) continue;
            var cut = item.IndexOf(By, StringComparison.Ordinal);
            choice = cut < 0 ? choice.With(item) : choice.With(item[..cut].Trim(), item[(cut + By.Length)..].Trim());
        }

        return choice;
    }

    /// <summary>The choice with one more effect.</summary>
    public EffectChoice With(string effect) => Effects.Contains(effect) ? this : this with { Effects = Effects.Add(effect) };

    /// <summary>The choice with one more interaction, and its two effects.</summary>
    public EffectChoice With(string first, string second)
    {
        var both = With(first).With(second);
        return first == second || both.Interactions.Contains((first, second)) || both.Interactions.Contains((second, first)) ? both : both with { Interactions = both.Interactions.Add((first, second)) };
    }

    /// <inheritdoc/>
    public bool Equals(EffectChoice? other) => other is not null && Effects.SequenceEqual(other.Effects) && Interactions.SequenceEqual(other.Interactions);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Effects.Length, Interactions.Length, Effects.IsEmpty ? "" : Effects[0]);

    /// <summary>The choice as it would be typed.</summary>
    public override string ToString()
    {
        var inPairs = Interactions.SelectMany(i => new[] { i.First, i.Second }).ToHashSet(StringComparer.Ordinal);
        var items = Effects.Where(e => !inPairs.Contains(e)).Concat(Interactions.Select(i => i.First + By + i.Second)).ToArray();
        return items.Length == 0 ? NoEffects : string.Join(", ", items);
    }
}
