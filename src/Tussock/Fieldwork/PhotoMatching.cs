using System.Collections.Immutable;
using System.Globalization;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Fieldwork;

/// <summary>What is known of a photo before it belongs anywhere.</summary>
/// <param name="File">Name of its file.</param>
/// <param name="At">Local time of the season's land, when known.</param>
/// <param name="Place">Where it was taken, when known.</param>
/// <param name="AccuracyM">How exact the place is, metres; null: not said.</param>
public sealed record PhotoSeen(string File, DateTime? At, Position? Place, double? AccuracyM);

/// <summary>Where a photo belongs.</summary>
/// <param name="Nest">The nest; null when none, or several, can be meant.</param>
/// <param name="Visit">The visit of that nest on that day; null when there is none.</param>
/// <param name="By">What said so: name, place, time, day.</param>
/// <param name="Candidates">Nests that can be meant when it is not clear; empty when nothing points anywhere.</param>
public sealed record PhotoMatch(Nest? Nest, Visit? Visit, ImmutableArray<string> By, ImmutableArray<Nest> Candidates);

/// <summary>Matches photos to nests by the name of the file, the place and the time. Never guesses: what does not point to one nest alone stays open.</summary>
/// <remarks>
/// Name: the transect and then the nest's number, such as N1-05.jpg. Place: nests no farther than the accuracies of both fixes together, 15 m each when not said, 15 m more
/// where only the flag is known. Time: the set-out or visit of that day nearest in time, if within 15 minutes and the next one is more than twice as far; else the day alone,
/// if one nest only was seen that day. What speaks must agree. May be shared between threads.
/// </remarks>
public sealed class PhotoMatching
{
    private const double UsualAccuracyM = 15, FlagToNestM = 15, NearMinutes = 15;

    private readonly Season season;
    private readonly ILookup<DateOnly, (Nest Nest, Visit? Visit, TimeOnly? At)> seen;

    /// <param name="season">The season.</param>
    public PhotoMatching(Season season)
    {
        ArgumentNullException.ThrowIfNull(season);
        this.season = season;
        var visits = season.Visits.Where(v => OnOf(v) is not null).Select(v => (On: OnOf(v)!.Value, v.Nest, Visit: (Visit?)v, At: v.VisitedAt));
        var sets = season.Nests.Where(n => n.SetOn is not null).Select(n => (On: n.SetOn!.Value, Nest: n, Visit: (Visit?)null, At: n.SetAt));
        seen = visits.Concat(sets).ToLookup(s => s.On, s => (s.Nest, s.Visit, s.At));
    }

    /// <summary>Where a photo belongs.</summary>
    public PhotoMatch Of(PhotoSeen photo)
    {
        ArgumentNullException.ThrowIfNull(photo);
        var said = new List<(string By, HashSet<Nest> Nests)>();
        Add("name", Named(photo.File));
        if (photo.Place is { } place) Add("place", Near(place, photo.AccuracyM ?? UsualAccuracyM));
        var day = photo.At is { } at ? seen[DateOnly.FromDateTime(at)].ToArray() : [];
        var nearest = photo.At is { } time ? NearestInTime(day, TimeOnly.FromDateTime(time)) : [];
        var ofDay = day.Select(s => s.Nest).ToHashSet();
        if (nearest.Count > 0) Add("time", nearest);
        else if (ofDay.Count == 1 || said.Count > 0) Add("day", ofDay);
        if (said.Count == 0) return new PhotoMatch(null, null, [], []);
        var meant = said.Skip(1).Aggregate(said[0].Nests.ToHashSet(), (left, s) => { left.IntersectWith(s.Nests); return left; });
        if (meant.Count != 1) return new PhotoMatch(null, null, [], Sorted(meant.Count > 0 ? meant : said.SelectMany(s => s.Nests)));
        var nest = meant.First();
        var visits = day.Where(s => s.Nest == nest && s.Visit is not null).OrderBy(s => photo.At is { } t && s.At is { } clock ? Apart(clock, TimeOnly.FromDateTime(t)) : double.MaxValue);
        return new PhotoMatch(nest, visits.FirstOrDefault().Visit, [.. said.Select(s => s.By)], []);

        void Add(string by, IEnumerable<Nest> nests)
        {
            var set = nests.ToHashSet();
            if (set.Count > 0) said.Add((by, set));
        }
    }

    private static DateOnly? OnOf(Visit visit) => visit.VisitedOn ?? (visit.Day is { } day && visit.Nest.SetOn is { } set ? set.AddDays((int)Math.Floor(day)) : null);

    private static ImmutableArray<Nest> Sorted(IEnumerable<Nest> nests) => [.. nests.Distinct().OrderBy(n => n.Transect.Name, StringComparer.Ordinal).ThenBy(n => n.Number)];

    private static HashSet<Nest> NearestInTime((Nest Nest, Visit? Visit, TimeOnly? At)[] day, TimeOnly at)
    {
        var ordered = day.Where(s => s.At is not null).GroupBy(s => s.Nest).Select(g => (Nest: g.Key, Minutes: g.Min(s => Apart(s.At!.Value, at)))).OrderBy(s => s.Minutes).ToArray();
        var near = ordered.Where(s => s.Minutes <= NearMinutes).ToArray();
        if (near.Length == 0) return [];
        return ordered.Length == 1 || ordered[1].Minutes > 2 * near[0].Minutes ? [near[0].Nest] : [.. near.Select(s => s.Nest)];
    }

    private static double Apart(TimeOnly a, TimeOnly b) => Math.Abs((a.ToTimeSpan() - b.ToTimeSpan()).TotalMinutes);

    private IEnumerable<Nest> Near(Position place, double accuracy)
    {
        var plane = new LocalPlane(place);
        foreach (var nest in season.Nests)
        {
            if ((nest.At ?? nest.Flag) is not { } at) continue;
            var (east, north) = plane.Metres(at);
            var own = Cell.Number(nest.Source.Text("gps_accuracy_m")) ?? UsualAccuracyM;
            if (Math.Sqrt((east * east) + (north * north)) <= accuracy + own + (nest.At is null ? FlagToNestM : 0)) yield return nest;
        }
    }

    /// <summary>Nests whose transect and number stand in the name, one behind the other.</summary>
    private IEnumerable<Nest> Named(string file)
    {
        var words = Words(file);
        foreach (var line in season.Nests.GroupBy(n => n.Transect))
        {
            var name = Words(line.Key.Name);
            if (name.Length == 0) continue;
            for (var i = 0; i + name.Length < words.Length; i++)
            {
                if (!words.AsSpan(i, name.Length).SequenceEqual(name)) continue;
                var next = i + name.Length;
                if (next + 1 < words.Length && words[next] is "NEST" or "N") next++;
                if (!int.TryParse(words[next], NumberStyles.None, CultureInfo.InvariantCulture, out var number)) continue;
                foreach (var nest in line.Where(n => n.Number == number)) yield return nest;
            }
        }
    }

    /// <summary>Letters and digits of a text, in runs, capitals; the ending of a file's name is no part.</summary>
    private static string[] Words(string text)
    {
        var cut = text.LastIndexOf('.');
        var plain = (cut > 0 ? text[..cut] : text).ToUpperInvariant();
        return new string([.. plain.Select(c => char.IsLetterOrDigit(c) ? c : ' ')]).Split(' ', StringSplitOptions.RemoveEmptyEntries);
    }
}
