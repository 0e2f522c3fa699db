using Tussock.Models;

namespace Tussock.Results;

/// <summary>Models, effects and their values in plain words, as a report names them.</summary>
public static class ModelNames
{
    /// <summary>"cover and fortnight"; "nothing: all nests and days alike".</summary>
    public static Phrase Of(EffectChoice choice)
    {
        ArgumentNullException.ThrowIfNull(choice);
        var inPairs = choice.Interactions.SelectMany(i => new[] { i.First, i.Second }).ToHashSet(StringComparer.Ordinal);
        var parts = choice.Effects.Where(e => !inPairs.Contains(e)).Select(Effect)
            .Concat(choice.Interactions.Select(i => Phrase.Of("model_report.by", ("first", Effect(i.First)), ("second", Effect(i.Second))))).ToArray();
        return parts.Length == 0 ? Phrase.Of("model_report.nothing") : parts.Aggregate((first, second) => Phrase.Of("model_report.and", ("first", first), ("second", second)));
    }

    /// <summary>"clump density of the line"; a column of the records by its own name.</summary>
    public static Phrase Effect(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return name switch
        {
            "cover" => Phrase.Of("model_report.effect.cover"),
            "fortnight" => Phrase.Of("model_report.effect.fortnight"),
            "clumps_per_acre" => Phrase.Of("model_report.effect.clumps"),
            _ => Phrase.Of("model_report.effect.other", ("name", name.Replace('_', ' '))),
        };
    }

    /// <summary>A value of an effect: "250 clumps an acre"; a class or a number as it is.</summary>
    public static Phrase Value(string effect, string value) => effect switch
    {
        "fortnight" => Phrase.Of(value == FortnightEffect.Halves[0] ? "model_report.value.first" : "model_report.value.second"),
        "clumps_per_acre" when Records.Cell.Number(value) is { } density => Phrase.Of("model_report.value.clumps", ("value", density)),
        _ => Phrase.Of("model_report.value.other", ("value", ModelSentences.Short(value))),
    };

    /// <summary>"cover: prickly pear; clump density of the line: 250 clumps an acre"; the typical nest where nothing is set.</summary>
    public static Phrase Of(Pattern pattern)
    {
        ArgumentNullException.ThrowIfNull(pattern);
        var parts = pattern.Set.Select(s => Phrase.Of("model_report.set", ("effect", Effect(s.Effect)), ("value", Value(s.Effect, s.Value)))).ToArray();
        return parts.Length == 0 ? Phrase.Of("model_report.typical") : parts.Aggregate((first, second) => Phrase.Of("model_report.both", ("first", first), ("second", second)));
    }
}
