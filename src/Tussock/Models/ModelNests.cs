using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>The nests on which every one of some effects was recorded: the rows that models are compared on.</summary>
/// <remarks>May be shared between threads.</remarks>
public sealed class ModelNests
{
    private ModelNests(ModelFrame frame, int[] rows, ImmutableArray<(string Effect, int Nests)> leftOut) => (Frame, Rows, LeftOut) = (frame, rows, leftOut);

    /// <summary>The season's nests.</summary>
    public ModelFrame Frame { get; }

    /// <summary>Rows of the frame that are used, ascending.</summary>
    public int[] Rows { get; }

    /// <summary>Effects that were not recorded everywhere, with the nests that each is missing for; a nest may be missing for several.</summary>
    public ImmutableArray<(string Effect, int Nests)> LeftOut { get; }

    /// <summary>Visit intervals of these nests.</summary>
    public int Intervals => Rows.Sum(r => Frame.Nests[r].Intervals);

    /// <summary>Losses of these nests.</summary>
    public int Losses => Rows.Count(r => Frame.Nests[r].IsLost);

    /// <summary>Mean of a number over the visit intervals.</summary>
    internal double Mean(Func<int, double> value) => Rows.Sum(r => value(r) * Frame.Nests[r].Intervals) / Intervals;

    /// <summary>Days of the planned checks before the end of the trial, where eggs were refreshed this season; else none.</summary>
    internal ImmutableArray<double> PlannedRefreshing => Rows.Any(r => !Frame.Nests[r].Refreshed.IsEmpty)
        ? [.. Frame.Season.Settings.CheckDays.Where(d => d < Frame.Season.Settings.TrialDays).Select(d => (double)d)]
        : [];

    /// <summary>The nests that have all the effects.</summary>
    /// <param name="frame">The season's nests.</param>
    /// <param name="effects">Names of effects.</param>
    /// <returns>The nests; a reason when there is no such effect, when it has a class for nearly every nest, or when no nest is left.</returns>
    public static Answer<ModelNests> Of(ModelFrame frame, IEnumerable<string> effects)
    {
        var rows = Enumerable.Range(0, frame.Nests.Length).ToHashSet();
        var leftOut = ImmutableArray.CreateBuilder<(string, int)>();
        foreach (var name in effects.Distinct(StringComparer.Ordinal))
        {
            if (frame.Effect(name) is not { } effect) return NoAnswer.Because("model_choice.unknown_effect", ("name", name), ("choices", frame.Choices().ToArray()));
            if (frame.HasTooManyClasses(effect)) return NoAnswer.Because("model_choice.too_many_classes", ("name", name), ("classes", effect.Levels.Length), ("nests", frame.Nests.Length));
            var missing = Enumerable.Range(0, frame.Nests.Length).Where(r => double.IsNaN(effect.At(r, 0))).ToArray();
            if (missing.Length > 0) leftOut.Add((name, missing.Length));
            rows.ExceptWith(missing);
        }

        if (rows.Count == 0) return frame.Nests.IsEmpty ? NoAnswer.Because("model_choice.no_nests") : NoAnswer.Because("model_choice.no_nests_with_all");
        return new ModelNests(frame, [.. rows.Order()], leftOut.ToImmutable());
    }
}
