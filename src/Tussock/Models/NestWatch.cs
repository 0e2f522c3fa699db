using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Models;

/// <summary>One nest from visit to visit: what a survival model is told about it.</summary>
/// <remarks>
/// Days since set-out, which stands for an intact visit on day 0. Visits that did not relocate the nest are not among them, so the interval after one runs from
/// the last visit that saw the nest. An artefact ends the watching as an intact visit. May be shared between threads.
/// </remarks>
public sealed record NestWatch
{
    /// <summary>The nest.</summary>
    public required Nest Nest { get; init; }

    /// <summary>Days after 0 on which it was seen intact, ascending, each once.</summary>
    public required ImmutableArray<double> Intact { get; init; }

    /// <summary>Day of the first visit that found it lost; null when it is watched to its last intact visit only.</summary>
    public double? FirstLost { get; init; }

    /// <summary>Day at which a camera saw the loss, where exact times are used; it wins over <see cref="FirstLost"/>.</summary>
    public double? LostAt { get; init; }

    /// <summary>Days after 0 on which its eggs were refreshed, ascending, each once.</summary>
    public ImmutableArray<double> Refreshed { get; init; } = [];

    /// <summary>Day of the last intact visit, a; 0 when none was.</summary>
    public double LastIntact => Intact.IsEmpty ? 0 : Intact[^1];

    /// <summary>Whether the model sees a loss.</summary>
    public bool IsLost => FirstLost is not null || LostAt is not null;

    /// <summary>Visit intervals: one an intact visit, one for the loss.</summary>
    public int Intervals => Intact.Length + (IsLost ? 1 : 0);

    /// <summary>The nests of a season that a model can learn from, in the order of <see cref="SeasonFates.Rows"/>: by line.</summary>
    /// <param name="season">The season.</param>
    /// <param name="fates">Its fates.</param>
    /// <param name="cameras">Whether camera times are exact times of loss, or ignored.</param>
    /// <param name="outcome">Whether every loss counts, or predation alone.</param>
    /// <returns>Nests with at least one interval.</returns>
    public static ImmutableArray<NestWatch> Of(Season season, SeasonFates fates, CameraTimes cameras = CameraTimes.Exact, Outcome outcome = Outcome.Survival)
    {
        var visits = new Dictionary<Nest, (int First, int Count)>(ReferenceEqualityComparer.Instance);
        for (var i = 0; i < season.Visits.Length; i++)
        {
            var nest = season.Visits[i].Nest;
            visits[nest] = visits.TryGetValue(nest, out var own) ? (own.First, own.Count + 1) : (i, 1);
        }

        var watches = ImmutableArray.CreateBuilder<NestWatch>(fates.Rows.Length);
        foreach (var fate in fates.Rows)
        {
            var (first, count) = visits.GetValueOrDefault(fate.Nest);
            var watch = Of(fate, season.Visits.AsSpan().Slice(first, count), season.Settings.LossRule, cameras, outcome);
            if (watch.Intervals > 0) watches.Add(watch);
        }

        return watches.ToImmutable();
    }

    private static NestWatch Of(NestFate fate, ReadOnlySpan<Visit> visits, LossRule rule, CameraTimes cameras, Outcome outcome)
    {
        List<double> intact = [], refreshed = [];
        foreach (var visit in visits)
        {
            if (visit.Day is not { } day || day <= 0 || day > fate.LastIntact) continue;
            if (VisitReading.Read(visit, rule) == Seen.Intact || day == fate.LastIntact) Add(intact, day);
            if (visit.Source.YesNo("eggs_refreshed") == true) Add(refreshed, day);
        }

        var counts = outcome == Outcome.Survival || fate.Cause == Cause.Depredated;
        return new NestWatch
        {
            Nest = fate.Nest,
            Intact = [.. intact],
            FirstLost = counts ? fate.FirstLost : null,
            LostAt = counts && cameras == CameraTimes.Exact ? fate.LostAt : null,
            Refreshed = [.. refreshed],
        };
    }

    /// <summary>Visits of a nest stand in order of their day, so equal days are neighbours.</summary>
    private static void Add(List<double> days, double day)
    {
        if (days.Count == 0 || days[^1] != day) days.Add(day);
    }
}
