using System.Collections.Immutable;
using Tussock.Store;

namespace Tussock.App.Serving;

/// <summary>The seasons of a data file that are served, the newest first. A season that is taken in meanwhile is served too, unless one was named at the start. May be shared between threads.</summary>
internal sealed class ServedSeasons
{
    private readonly Lock gate = new();
    private Known? known;

    /// <param name="usual">What every season is served with.</param>
    /// <param name="isNamed">Whether only the season of <paramref name="usual"/> is served.</param>
    internal ServedSeasons(ServedSeason usual, bool isNamed)
    {
        (Usual, IsNamed) = (usual, isNamed);
        Alone = Now.All is [var only] ? only.Id : null;
    }

    /// <summary>What every season is served with.</summary>
    internal ServedSeason Usual { get; }

    /// <summary>Whether only one season is served, whatever else the file has.</summary>
    internal bool IsNamed { get; }

    /// <summary>The season that was alone at the start: every page without a season in its address that this process has shown was of it.</summary>
    internal Guid? Alone { get; }

    /// <summary>All seasons that are served, the newest first.</summary>
    internal ImmutableArray<SeasonEntry> All => Now.All;

    /// <summary>Names of all properties that have a pasture in any of them, by name.</summary>
    internal ImmutableArray<string> Properties => [.. Now.Land.Select(l => l.Property).Distinct(StringComparer.Ordinal)];

    /// <summary>The seasons in which one of these properties has a pasture, the newest first.</summary>
    internal ImmutableArray<SeasonEntry> With(IEnumerable<string> properties)
    {
        var own = properties.ToHashSet(StringComparer.Ordinal);
        var now = Now;
        return [.. now.All.Where(s => now.Land.Any(l => l.Season == s.Id && own.Contains(l.Property)))];
    }

    /// <summary>What one of them is served with.</summary>
    internal ServedSeason Of(SeasonEntry season) => Usual with { Season = season };

    /// <summary>The newest first: by its year, where that is the same by its name.</summary>
    internal static IEnumerable<SeasonEntry> NewestFirst(IEnumerable<SeasonEntry> seasons) => seasons.OrderByDescending(s => s.Year, StringComparer.Ordinal).ThenByDescending(s => s.Name, StringComparer.Ordinal).ThenBy(s => s.Id);

    private Known Now
    {
        get
        {
            var at = Usual.File.Last;
            lock (gate)
            {
                if (known is { } last && last.At == at) return last;
            }

            // Read outside of the lock: whoever asks meanwhile reads the same.
            var seasons = IsNamed ? Usual.File.Seasons().Where(s => s.Id == Usual.Season.Id) : NewestFirst(Usual.File.Seasons());
            ImmutableArray<SeasonEntry> all = [.. seasons];
            var newer = new Known(at, all, [.. Usual.File.Properties().Where(l => all.Any(s => s.Id == l.Season))]);
            lock (gate) known = newer;
            return newer;
        }
    }

    private sealed record Known((long Position, Guid Change) At, ImmutableArray<SeasonEntry> All, ImmutableArray<(Guid Season, string Property)> Land);
}
