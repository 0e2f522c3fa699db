using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>The nest of a pattern under one model: what its effects are, and its days in pieces of constant effects.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed class PredictedNest
{
    private PredictedNest(ModelDesign design, Pattern pattern, ImmutableArray<Effect> effects) => (Design, Pattern, Effects) = (design, pattern, effects);

    /// <summary>The model's design.</summary>
    public ModelDesign Design { get; }

    /// <summary>What was asked for.</summary>
    public Pattern Pattern { get; }

    /// <summary>The design's effects on this nest, row 0.</summary>
    public ImmutableArray<Effect> Effects { get; }

    /// <summary>The nest of a pattern; effects that the model lacks are an error.</summary>
    public static Answer<PredictedNest> Of(ModelDesign design, Pattern pattern) => pattern.On(design).Then(effects => new PredictedNest(design, pattern, effects));

    /// <summary>What its effects are, as text; what takes the season's own course is not among them.</summary>
    public IEnumerable<(Effect Effect, double Value)> Fixed => Effects.Where(e => !e.ChangesWithDays).Select(e => (e, e.At(0, 0)));

    /// <summary>The days (0, days] in pieces within which no effect changes.</summary>
    /// <returns>The pieces in order, effects by the design's columns.</returns>
    public ImmutableArray<PatternDays> Course(double days)
    {
        var pieces = ImmutableArray.CreateBuilder<PatternDays>();
        var begin = 0.0;
        var values = new double[Effects.Length];
        foreach (var end in ModelDesign.Cuts(Effects, 0, 0, days))
        {
            if (end <= begin) continue;
            for (var e = 0; e < values.Length; e++) values[e] = Effects[e].At(0, (begin + end) / 2);
            pieces.Add(new PatternDays(Design.Row(values), end - begin));
            begin = end;
        }

        return pieces.ToImmutable();
    }
}
