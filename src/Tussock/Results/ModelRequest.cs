using System.Collections.Immutable;
using Tussock.Models;

namespace Tussock.Results;

/// <summary>Which survival model of a season is asked for.</summary>
public sealed record ModelRequest
{
    /// <summary>Effects chosen; null: cover where it differs, or the best of the models compared.</summary>
    public EffectChoice? Effects { get; init; }

    /// <summary>Groups of nests that share luck: transect, pasture, year; empty: none.</summary>
    public ImmutableArray<string> Random { get; init; } = [];

    /// <summary>Scale of the effects.</summary>
    public Link Link { get; init; }

    /// <summary>Nodes of the quadrature, 1 (Laplace) to 25.</summary>
    public int Nodes { get; init; } = 9;

    /// <summary>What a camera's time of loss is taken for.</summary>
    public CameraTimes Cameras { get; init; }

    /// <summary>What counts as the end of a nest.</summary>
    public Outcome Outcome { get; init; }

    /// <summary>Nests to predict survival for; none: those that show what the effects do.</summary>
    public ImmutableArray<Pattern> Predict { get; init; } = [];

    /// <summary>Day to predict survival to; null: the end of the trial.</summary>
    public double? Days { get; init; }

    /// <summary>Whether effects of a model without groups get profile limits in place of those by their standard errors.</summary>
    public bool Profile { get; init; }

    /// <summary>Models to compare; null: none, empty: a sensible list.</summary>
    public ImmutableArray<EffectChoice>? Compare { get; init; }

    /// <summary>How the model shown is held against the season; null: it is not.</summary>
    public FitCheckOptions? FitCheck { get; init; }
}
