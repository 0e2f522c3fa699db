using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>One column of effects: the intercept, a number, a class against the reference, or a product of two of these.</summary>
/// <param name="Name">Name in results: <c>intercept</c>, <c>concealment</c>, <c>cover = shrub</c>, <c>cover = shrub, by clumps_per_acre</c>.</param>
/// <param name="Parts">Its factors: an effect by index and the class that counts as 1, or −1 for the number itself; none: the intercept.</param>
internal sealed record DesignColumn(string Name, ImmutableArray<(int Effect, int Level)> Parts)
{
    /// <summary>Name of the intercept.</summary>
    internal const string Intercept = "intercept";

    /// <summary>The column's value where the effects have these values.</summary>
    internal double Value(ReadOnlySpan<double> effects)
    {
        var product = 1.0;
        foreach (var (effect, level) in Parts) product *= level < 0 ? effects[effect] : effects[effect] == level ? 1 : 0;
        return product;
    }

    /// <summary>The columns of a choice: intercept, then each effect, then each interaction.</summary>
    internal static ImmutableArray<DesignColumn> Of(ImmutableArray<Effect> effects, EffectChoice choice)
    {
        var columns = ImmutableArray.CreateBuilder<DesignColumn>();
        columns.Add(new DesignColumn(Intercept, []));
        var own = effects.Select((e, i) => Own(e, i).ToImmutableArray()).ToImmutableArray();
        foreach (var of in own) columns.AddRange(of);
        foreach (var (first, second) in choice.Interactions)
        {
            // The class stands first where a class and a number meet.
            int a = choice.Effects.IndexOf(first), b = choice.Effects.IndexOf(second);
            if (effects[a].IsNumber && !effects[b].IsNumber) (a, b) = (b, a);
            foreach (var left in own[a]) foreach (var right in own[b]) columns.Add(new DesignColumn(left.Name + ", by " + right.Name, left.Parts.AddRange(right.Parts)));
        }

        return columns.ToImmutable();
    }

    private static IEnumerable<DesignColumn> Own(Effect effect, int index)
    {
        if (effect.IsNumber) return [new DesignColumn(effect.Name, [(index, -1)])];
        return Enumerable.Range(1, Math.Max(effect.Levels.Length - 1, 0)).Select(level => new DesignColumn(effect.Name + " = " + effect.Levels[level], [(index, level)]));
    }
}
