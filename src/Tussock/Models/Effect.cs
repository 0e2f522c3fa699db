using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Something that may explain survival, read for each nest and day: a number, or one of several classes.</summary>
/// <remarks>May be shared between threads.</remarks>
public abstract class Effect
{
    /// <summary>Name: the column of the records, or the name of what is computed.</summary>
    public required string Name { get; init; }

    /// <summary>Names of the classes, the reference first; empty for a number.</summary>
    public ImmutableArray<string> Levels { get; init; } = [];

    /// <summary>Whether it is a number rather than a class.</summary>
    public bool IsNumber => Levels.IsEmpty;

    /// <summary>Whether it changes while a nest is watched.</summary>
    public abstract bool ChangesWithDays { get; }

    /// <summary>Number, or index of the class, for a nest at a moment within one of its pieces; NaN when it was not recorded.</summary>
    /// <param name="row">Row of the frame.</param>
    /// <param name="day">Days since set-out.</param>
    public abstract double At(int row, double day);

    /// <summary>The effect on one nest, row 0, that stands for the given ones: the mean of a number over their visit intervals, the class of most intervals, the season's own course of what changes with days.</summary>
    public abstract Effect Typical(ModelNests nests);

    /// <summary>Adds the days in (from, to) at which it changes for a nest.</summary>
    public virtual void AddCuts(int row, double from, double to, List<double> cuts)
    {
    }
}

/// <summary>An effect that stays the same while a nest is watched.</summary>
/// <param name="values">Number or index of the class for each row of the frame; NaN when it was not recorded.</param>
public sealed class NestEffect(double[] values) : Effect
{
    /// <inheritdoc/>
    public override bool ChangesWithDays => false;

    /// <inheritdoc/>
    public override double At(int row, double day) => values[row];

    /// <inheritdoc/>
    public override Effect Typical(ModelNests nests)
    {
        var weighed = nests.Rows.Select(r => (Value: values[r], Weight: (double)nests.Frame.Nests[r].Intervals));
        var typical = IsNumber ? nests.Mean(r => values[r]) : weighed.GroupBy(v => v.Value).OrderByDescending(g => g.Sum(v => v.Weight)).ThenBy(g => g.Key).First().Key;
        return new NestEffect([typical]) { Name = Name, Levels = Levels };
    }
}
