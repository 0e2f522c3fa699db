using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Fates;

/// <summary>From the visits and camera events of one nest to its fate, by the ordered rule.</summary>
/// <remarks>
/// a = day of the last intact visit before the first one found lost (0 if none); b = day of that first lost visit; of visits on one day that
/// disagree the lost one counts. A visit on day ≤ 0 gives no interval; a loss on day ≤ 0 leaves the nest out of every count. Not relocated says
/// nothing. After the first loss, or an artefact, nothing counts. Assumes that not relocating a nest is unrelated to its fate, which flatters where
/// whatever takes a nest also takes bowl and washer.
/// </remarks>
/// <source>Common practice, no source; an interval of visits holds the loss: Johnson 1979, Auk 96:651–661 (from memory, to be confirmed).</source>
/// <check>reference-seasons</check>
public static class FateRule
{
    /// <summary>A camera's day may miss (a, b] by less than this because a date stands for a whole day.</summary>
    private const double WholeDay = 1;

    /// <summary>The fate of one nest.</summary>
    /// <param name="nest">The nest.</param>
    /// <param name="visits">Its visits, in any order.</param>
    /// <param name="cameras">Its camera events, in order of day.</param>
    /// <param name="rule">When a nest counts as lost by its eggs.</param>
    /// <param name="trial">Check day, length and window.</param>
    public static NestFate Of(Nest nest, ReadOnlySpan<Visit> visits, ReadOnlySpan<CameraEvent> cameras, LossRule rule, Trial trial)
    {
        Visit? lost = null;
        Visit? ended = null;
        var count = 0;
        foreach (var visit in visits)
        {
            if (visit.Day is not { } day) continue;
            if (day > 0) count++;
            var seen = VisitReading.Read(visit, rule);
            if (seen == Seen.Lost && day <= 0) return new NestFate { Nest = nest, IsCounted = false };
            if (seen == Seen.Lost && (lost is null || day < lost.Day)) lost = visit;
            if (seen == Seen.EndOfWatching && day > 0 && (ended is null || day < ended.Day)) ended = visit;
        }

        if (ended is not null && lost is not null && lost.Day <= ended.Day) ended = null;
        if (ended is not null) lost = null;
        var last = ended?.Day ?? LastIntact(visits, lost?.Day ?? double.PositiveInfinity, rule);
        var at = ended is null ? LossTime(nest, cameras, last, lost, HasTimes(nest, visits), rule) : null;
        var fate = new NestFate
        {
            Nest = nest,
            LastIntact = last,
            FirstLost = lost?.Day,
            LostAt = at,
            Cause = lost is not null ? VisitReading.CauseOf(lost) : at is not null ? Cause.Depredated : Cause.None,
            EndedBy = ended?.Cause,
            Visits = count,
            IsNotRelocated = lost is null && at is null && ended is null && IsNotRelocatedAfter(visits, last),
        };
        return fate with { Day14 = At(fate, trial.FirstCheck, trial.Window), Day28 = At(fate, trial.Days, trial.Window) };
    }

    /// <summary>The ordered rule at one day: camera time, then last intact visit, then first lost visit, else unknown.</summary>
    public static FateAt At(NestFate fate, double day, double window) => fate.LostAt is { } t ? t > day ? FateAt.Survived : FateAt.Lost : ByVisits(fate.LastIntact, fate.FirstLost, day, window);

    /// <summary>The rule at one day where no camera timed the loss.</summary>
    internal static FateAt ByVisits(double lastIntact, double? firstLost, double day, double window)
    {
        if (lastIntact >= day - window) return FateAt.Survived;
        return firstLost <= day + window ? FateAt.Lost : FateAt.Unknown;
    }

    /// <summary>Days of the camera events that could time a loss: those that took eggs; under <see cref="LossRule.AllEggs"/> the one after which no egg is left.</summary>
    public static ImmutableArray<CameraEvent> TimingEvents(ReadOnlySpan<CameraEvent> cameras, LossRule rule, int? eggs)
    {
        var taking = ImmutableArray.CreateBuilder<CameraEvent>();
        foreach (var e in cameras) if (e is { TookEggs: true, Day: not null }) taking.Add(e);
        if (rule == LossRule.AnyEgg || taking.Count < 2) return rule == LossRule.AnyEgg || IsLastEgg(taking, eggs) ? taking.ToImmutable() : [];
        var left = eggs ?? 3;
        foreach (var e in taking)
        {
            if (e.EggsTaken is not { } taken) return [taking[^1]];
            left -= taken;
            if (left <= 0) return [e];
        }

        return [];
    }

    private static bool IsLastEgg(ImmutableArray<CameraEvent>.Builder taking, int? eggs) =>
        taking.Count == 1 && (taking[0].EggsTaken is not { } taken || eggs is not { } set || taken >= set);

    private static double LastIntact(ReadOnlySpan<Visit> visits, double before, LossRule rule)
    {
        var last = 0.0;
        foreach (var visit in visits) if (visit.Day is { } day && day < before && day > last && VisitReading.Read(visit, rule) == Seen.Intact) last = day;
        return last;
    }

    private static bool IsNotRelocatedAfter(ReadOnlySpan<Visit> visits, double last)
    {
        foreach (var visit in visits) if (visit.Finding == Finding.NotRelocated && visit.Day > last) return true;
        return false;
    }

    private static bool HasTimes(Nest nest, ReadOnlySpan<Visit> visits)
    {
        if (nest.SetAt is null) return false;
        foreach (var visit in visits) if (visit.VisitedOn is not null && visit.VisitedAt is null) return false;
        return true;
    }

    private static double? LossTime(Nest nest, ReadOnlySpan<CameraEvent> cameras, double last, Visit? lost, bool hasTimes, LossRule rule)
    {
        var first = lost?.Day ?? double.PositiveInfinity;
        foreach (var e in TimingEvents(cameras, rule, nest.Eggs))
        {
            var t = e.Day!.Value;
            if (t > last && t <= first) return t;
            if (hasTimes) continue;
            if (t <= last && last - t < WholeDay) return Math.Min(last + 0.01, first);
            if (t > first && t - first < WholeDay) return first;
        }

        return null;
    }
}
