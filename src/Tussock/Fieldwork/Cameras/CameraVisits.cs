using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Records;

namespace Tussock.Fieldwork.Cameras;

/// <summary>One visit of an animal, or of people, to a nest, made of what a camera's records show.</summary>
public sealed record CameraVisit
{
    /// <summary>Key of its first sighting.</summary>
    public required string Key { get; init; }

    /// <summary>Begin, local time by the camera's clock.</summary>
    public required DateTime From { get; init; }

    /// <summary>End, local time by the camera's clock.</summary>
    public required DateTime To { get; init; }

    /// <summary>Culprit class; empty when nobody has looked.</summary>
    public required string Culprit { get; init; }

    /// <summary>Name of the animal as recorded.</summary>
    public string Species { get; init; } = "";

    /// <summary>What it did.</summary>
    public AnimalAct Act { get; init; }

    /// <summary>How many were seen at once.</summary>
    public int Count { get; init; } = 1;

    /// <summary>How sure whoever named it was.</summary>
    public string Certainty { get; init; } = "";

    /// <summary>Whether only the day is known.</summary>
    public bool IsWholeDay { get; init; }

    /// <summary>Keys of the pictures that show it, in order of time.</summary>
    public ImmutableArray<string> Pictures { get; init; } = [];
}

/// <summary>Groups the sightings of one camera into visits.</summary>
/// <remarks>
/// A sighting of a whole visit is one. Sightings of single pictures that lie within such a visit belong to it; the others are grouped: the same animal doing the same, of the
/// same named visit, or not farther apart than the gap. How long a gap parts two visits is judgement: common practice, no source. May be shared between threads.
/// </remarks>
public sealed class CameraVisits
{
    /// <summary>Minutes without a picture that part two visits of the same animal, when not said.</summary>
    public const double UsualGapMin = 30;

    private readonly SpeciesMap species;
    private readonly TimeSpan gap;

    /// <param name="species">Names of animals and their classes.</param>
    /// <param name="gapMin">Minutes without a picture that part two visits.</param>
    public CameraVisits(SpeciesMap species, double gapMin = UsualGapMin) => (this.species, gap) = (species, TimeSpan.FromMinutes(gapMin));

    /// <summary>The class that a sighting counts as; empty when nobody has looked.</summary>
    public SpeciesClass ClassOf(Sighting sighting)
    {
        ArgumentNullException.ThrowIfNull(sighting);
        if (Cell.Token(sighting.Tag("culprit")) is { Length: > 0 } said) return new SpeciesClass(said, true);
        return sighting.Shown switch
        {
            ShownKind.Person => new SpeciesClass("person", true),
            ShownKind.Unknown => new SpeciesClass("unknown", true),
            ShownKind.NotLooked => new SpeciesClass("", true),
            _ => species.Of(sighting.Species, sighting.OtherNames.AsSpan()),
        };
    }

    /// <summary>The visits of one camera, by time; blank pictures and those of setting up are none.</summary>
    /// <param name="sightings">Its sightings, in any order.</param>
    /// <param name="pictures">Its pictures, in any order.</param>
    public ImmutableArray<CameraVisit> Of(IEnumerable<Sighting> sightings, IEnumerable<CameraPicture> pictures)
    {
        var all = sightings.OrderBy(s => s.From).ThenBy(s => s.Key, StringComparer.Ordinal).ToArray();
        var byTime = pictures.OrderBy(p => p.At).ThenBy(p => p.Key, StringComparer.Ordinal).ToArray();
        var times = byTime.Select(p => p.At).ToArray();
        var seen = all.Where(s => s.Shown != ShownKind.Blank && !s.IsSetUp).ToArray();
        var whole = seen.Where(s => s.IsWholeVisit).ToArray();
        var named = whole.Where(s => s.Visit.Length > 0).Select(s => s.Visit).ToHashSet(StringComparer.Ordinal);
        var spans = new SpansOfTime(whole.Select(s => (s.From, s.To)));
        var visits = whole.Select(s => Of([s], Between(s))).ToList();
        var singles = seen.Where(s => !s.IsWholeVisit && !named.Contains(s.Visit) && !spans.Has(s.From));
        foreach (var alike in singles.GroupBy(s => (ClassOf(s).Culprit, s.Species, Act(s), s.Visit))) visits.AddRange(Parted([.. alike], alike.Key.Visit.Length > 0).Select(g => Of(g, [])));
        return [.. visits.OrderBy(v => v.From).ThenBy(v => v.Key, StringComparer.Ordinal)];

        IEnumerable<string> Between(Sighting s)
        {
            var at = Array.BinarySearch(times, s.From);
            if (at < 0) at = ~at;
            while (at > 0 && times[at - 1] == s.From) at--;
            for (; at < times.Length && times[at] <= s.To; at++) yield return byTime[at].Key;
        }
    }

    private List<Sighting[]> Parted(Sighting[] alike, bool isNamed)
    {
        var groups = new List<Sighting[]>();
        var start = 0;
        var end = alike[0].To;
        for (var i = 1; i <= alike.Length; i++)
        {
            if (i < alike.Length && (isNamed || alike[i].From - end <= gap))
            {
                if (alike[i].To > end) end = alike[i].To;
                continue;
            }

            groups.Add(alike[start..i]);
            if (i == alike.Length) break;
            (start, end) = (i, alike[i].To);
        }

        return groups;
    }

    private CameraVisit Of(Sighting[] group, IEnumerable<string> between) => new()
    {
        Key = group[0].Key,
        From = group[0].From,
        To = group.Max(s => s.To),
        Culprit = ClassOf(group[0]).Culprit,
        Species = group[0].Species,
        Act = Act(group[0]),
        Count = group.Max(s => s.Count),
        Certainty = group.Select(s => s.Certainty).FirstOrDefault(c => c.Length > 0) ?? "",
        IsWholeDay = Cell.YesNo(group[0].Tag("whole_day")) == true,
        Pictures = [.. group.Select(s => s.Picture).Where(p => p.Length > 0).Concat(between).Distinct(StringComparer.Ordinal)],
    };

    private static AnimalAct Act(Sighting sighting) => AnimalAct.Of(sighting.Tags, sighting.Behaviours);
}
