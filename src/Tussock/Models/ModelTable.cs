using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>What a survival model is fitted to: days watched and losses, added up over equal rows of effects. The one input of every fit.</summary>
/// <remarks>
/// A <i>pattern</i> is a row of effects x (length k) with an offset, within one group (line, transect): its linear predictor is η = x·β + offset, plus the group's
/// intercept where the model has one. Patterns are sorted by group, so those of a group are neighbours; so are losses. A <i>loss</i> is a nest found lost between two
/// visits: the pieces of that interval, each with its pattern and days; most have one piece, more where an effect changes on the way (fortnight, egg age).
/// All pieces of a loss lie in one group. Log-likelihood = Σ_p (−Watched_p·h(η_p) + Timed_p·log h(η_p)) + Σ_losses weight·log(1 − exp(−Σ_pieces days·h(η))).
/// Columns must not be changed by readers. May be shared between threads.
/// </remarks>
public sealed class ModelTable
{
    /// <summary>Names of the k columns of effects, in order; the intercept is a column like any other.</summary>
    public required ImmutableArray<string> Columns { get; init; }

    /// <summary>Effects, one row of k a pattern, row by row.</summary>
    public required double[] X { get; init; }

    /// <summary>Offset of each pattern, added to its linear predictor.</summary>
    public required double[] Offset { get; init; }

    /// <summary>Days watched intact in each pattern (weighted): intact intervals, and the days before a timed loss.</summary>
    public required double[] Watched { get; init; }

    /// <summary>Losses timed by a camera in each pattern (weighted); each adds the density log h.</summary>
    public required double[] Timed { get; init; }

    /// <summary>First pattern of each group; one more entry than groups, the last is the number of patterns.</summary>
    public required int[] GroupPatterns { get; init; }

    /// <summary>First loss of each group; one more entry than groups, the last is the number of losses.</summary>
    public required int[] GroupLosses { get; init; }

    /// <summary>First piece of each loss; one more entry than losses, the last is the number of pieces.</summary>
    public required int[] LossPieces { get; init; }

    /// <summary>Weight of each loss, &gt; 0.</summary>
    public required double[] LossWeight { get; init; }

    /// <summary>Pattern of each piece.</summary>
    public required int[] PiecePattern { get; init; }

    /// <summary>Days of each piece, &gt; 0.</summary>
    public required double[] PieceDays { get; init; }

    /// <summary>Names of the groups, by index.</summary>
    public required ImmutableArray<string> GroupNames { get; init; }

    /// <summary>Nests that inform.</summary>
    public required int Nests { get; init; }

    /// <summary>Visit intervals used: n of AICc.</summary>
    public required int Intervals { get; init; }

    /// <summary>Number of columns, k.</summary>
    public int Width => Columns.Length;

    /// <summary>Number of patterns.</summary>
    public int Patterns => Offset.Length;

    /// <summary>Number of losses found between visits.</summary>
    public int Losses => LossWeight.Length;

    /// <summary>Number of groups.</summary>
    public int Groups => GroupPatterns.Length - 1;

    /// <summary>The effects of one pattern.</summary>
    public ReadOnlySpan<double> Row(int pattern) => X.AsSpan(pattern * Width, Width);
}
