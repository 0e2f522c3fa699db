using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>A nest with all that was written about it, and the fate that it amounts to.</summary>
internal sealed class NestHistory
{
    private readonly Season season;
    private (int Start, int Count) visits, remains, cameras;

    private NestHistory(Season season, Nest nest) => (this.season, Nest, Fate) = (season, nest, new NestFate { Nest = nest });

    internal Nest Nest { get; }

    /// <summary>What the fate rule makes of it, also for a nest without a date of set-out.</summary>
    internal NestFate Fate { get; private set; }

    /// <summary>Visits, by day.</summary>
    internal ReadOnlySpan<Visit> Visits => season.Visits.AsSpan(visits.Start, visits.Count);

    internal ReadOnlySpan<Remains> Remains => season.Remains.AsSpan(remains.Start, remains.Count);

    /// <summary>Camera events, by day.</summary>
    internal ReadOnlySpan<CameraEvent> Cameras => season.CameraEvents.AsSpan(cameras.Start, cameras.Count);

    /// <summary>Day of the first visit that found it lost; +∞ when none did.</summary>
    internal double FirstLost => Fate.FirstLost ?? double.PositiveInfinity;

    /// <summary>Day from which nobody had to look any more: first found lost, or ended by an artefact; +∞ when neither.</summary>
    internal double Over => Fate.EndedBy is null ? FirstLost : Fate.LastIntact;

    /// <summary>Set, and neither lost, ended nor out of every count: somebody has to go on looking.</summary>
    internal bool IsWatched => Nest.IsSet && Fate is { IsCounted: true, IsLost: false, EndedBy: null };

    /// <summary>Whether any visit lies in [from, to].</summary>
    internal bool HasVisitIn(double from, double to) => LatestIn(from, to) is not null;

    /// <summary>The first visit after a day, when there is one.</summary>
    internal Visit? FirstVisitAfter(double day)
    {
        foreach (var visit in Visits) if (visit.Day > day) return visit;
        return null;
    }

    /// <summary>The latest visit in [from, to]; of several at one time one that found the nest.</summary>
    internal Visit? LatestIn(double from, double to)
    {
        Visit? latest = null;
        foreach (var visit in Visits)
        {
            if (visit.Day is { } day && day >= from && day <= to && (latest is null || day > latest.Day || (day == latest.Day && latest.Finding == Finding.NotRelocated))) latest = visit;
        }

        return latest;
    }

    /// <summary>Histories of all nests, in the order of the season's nests.</summary>
    internal static NestHistory[] All(Season season, Trial trial)
    {
        var histories = new NestHistory[season.Nests.Length];
        var byNest = new Dictionary<Nest, NestHistory>(season.Nests.Length);
        for (var i = 0; i < histories.Length; i++) byNest.Add(season.Nests[i], histories[i] = new NestHistory(season, season.Nests[i]));
        Runs(season.Visits.AsSpan(), v => v.Nest, (n, run) => byNest[n].visits = run);
        Runs(season.Remains.AsSpan(), r => r.Nest, (n, run) => byNest[n].remains = run);
        Runs(season.CameraEvents.AsSpan(), c => c.Nest, (n, run) => byNest[n].cameras = run);
        foreach (var history in histories) history.Fate = FateRule.Of(history.Nest, history.Visits, history.Cameras, season.Settings.LossRule, trial);
        return histories;
    }

    private static void Runs<T>(ReadOnlySpan<T> records, Func<T, Nest> nest, Action<Nest, (int Start, int Count)> found)
    {
        for (var start = 0; start < records.Length;)
        {
            var of = nest(records[start]);
            var end = start + 1;
            while (end < records.Length && ReferenceEquals(nest(records[end]), of)) end++;
            found(of, (start, end - start));
            start = end;
        }
    }
}
