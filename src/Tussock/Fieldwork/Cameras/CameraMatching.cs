using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Fieldwork.Cameras;

/// <summary>The nest of a camera, or why there is none.</summary>
/// <param name="Camera">The camera.</param>
/// <param name="Nest">The nest; null when it is not clear.</param>
/// <param name="What">The sentence that says by what, or why not.</param>
public sealed record CameraMatch(PlacedCamera Camera, Nest? Nest, Phrase What);

/// <summary>Matches cameras to nests: as somebody decided, as the records of a former import have it, by what the camera's records say, else by place and time. Never guesses.</summary>
/// <remarks>
/// By place: the nearest nest within a stated distance, if the next one is more than twice as far and the place is known better than that distance; the days that the camera
/// stood must touch the days of the trial at that nest. The distance is judgement, no source. May be shared between threads.
/// </remarks>
public sealed class CameraMatching
{
    /// <summary>Distance within which a camera is taken to watch the nearest nest, metres, when not said.</summary>
    public const double UsualWithinM = 30;

    private const int DaysAround = 14;
    private readonly Season season;
    private readonly NestSaid said;
    private readonly double withinM;
    private readonly IReadOnlyDictionary<string, string> decided;
    private readonly Dictionary<string, Nest> former = new(StringComparer.Ordinal);

    /// <param name="season">The season.</param>
    /// <param name="source">Name of the cameras' records.</param>
    /// <param name="decided">Key of a camera to the text of its nest, as somebody decided.</param>
    /// <param name="withinM">Greatest distance to a nest, metres.</param>
    public CameraMatching(Season season, string source, IReadOnlyDictionary<string, string> decided, double withinM = UsualWithinM)
    {
        ArgumentNullException.ThrowIfNull(season);
        (this.season, this.decided, this.withinM, said) = (season, decided, withinM, new NestSaid(season));
        foreach (var d in season.Deployments) if (d.Source.Text(CameraColumns.Package) == source) former.TryAdd(d.Source.Text(CameraColumns.Deployment), d.Nest);
    }

    /// <summary>The one nest that a text names; null when it names none, or several.</summary>
    public Nest? Named(string text) => said.Named(text) is [var one] ? one : null;

    /// <summary>The nest of a camera.</summary>
    public CameraMatch Of(PlacedCamera camera)
    {
        ArgumentNullException.ThrowIfNull(camera);
        var text = decided.GetValueOrDefault(camera.Key) ?? camera.Decided;
        if (text.Length > 0) return Named(text) is { } given ? Found(camera, given, "cameras.by_decision") : No(camera, "cameras.no_such_nest", ("nest", text));
        if (former.TryGetValue(camera.Key, out var before)) return Found(camera, before, "cameras.by_records");
        var named = camera.Said.Select(s => (s.Field, Nests: said.Named(s.Text))).Where(s => s.Nests.Length > 0).ToArray();
        var nests = named.SelectMany(s => s.Nests).Distinct().ToArray();
        if (nests.Length > 1) return No(camera, "cameras.named_several", ("nests", List(nests)));
        return nests.Length == 1 ? ByName(camera, nests[0], named[0].Field) : ByPlace(camera);
    }

    /// <summary>A name stands, but a place or days that speak against it are told.</summary>
    private CameraMatch ByName(PlacedCamera camera, Nest nest, string field)
    {
        if (!IsOfItsDays(camera, nest)) return No(camera, "cameras.other_days", ("nest", Shown(nest)));
        var far = camera.At is { } at ? Distance(at, nest) : null;
        return far > withinM + (camera.AccuracyM ?? 0) + FlagM(nest)
            ? Found(camera, nest, "cameras.by_name_far", ("field", field), ("metres", far.Value))
            : Found(camera, nest, "cameras.by_name", ("field", field));
    }

    private CameraMatch ByPlace(PlacedCamera camera)
    {
        if (camera.At is not { } at) return No(camera, "cameras.no_place");
        if (camera.AccuracyM > withinM) return No(camera, "cameras.coarse_place", ("metres", camera.AccuracyM.Value), ("within", withinM));
        var near = season.Nests.Select(n => (Nest: n, Metres: Distance(at, n))).Where(n => n.Metres is not null).OrderBy(n => n.Metres).Take(2).ToArray();
        if (near.Length == 0) return No(camera, "cameras.no_nest_place");
        var nearest = near[0].Metres!.Value;
        if (nearest > withinM) return No(camera, "cameras.too_far", ("nest", Shown(near[0].Nest)), ("metres", nearest), ("within", withinM));
        if (near.Length > 1 && near[1].Metres <= Math.Max(2 * nearest, camera.AccuracyM ?? 0)) return No(camera, "cameras.between", ("nests", List(near.Select(n => n.Nest))));
        return IsOfItsDays(camera, near[0].Nest) ? Found(camera, near[0].Nest, "cameras.by_place", ("metres", nearest)) : No(camera, "cameras.other_days", ("nest", Shown(near[0].Nest)));
    }

    private bool IsOfItsDays(PlacedCamera camera, Nest nest) => nest.SetOn is not { } set
        || (DateOnly.FromDateTime(camera.To) >= set && DateOnly.FromDateTime(camera.From) <= set.AddDays(season.Settings.TrialDays + DaysAround));

    private static double? Distance(Position at, Nest nest)
    {
        if ((nest.At ?? nest.Flag) is not { } place) return null;
        var (east, north) = new LocalPlane(at).Metres(place);
        return Math.Sqrt((east * east) + (north * north));
    }

    private static double FlagM(Nest nest) => nest.At is null ? 15 : 0;

    private static CameraMatch Found(PlacedCamera camera, Nest nest, string key, params ReadOnlySpan<(string, object)> more) =>
        new(camera, nest, Phrase.Of(key, [("camera", camera.Key), ("nest", Shown(nest)), .. more]));

    private static CameraMatch No(PlacedCamera camera, string key, params ReadOnlySpan<(string, object)> more) => new(camera, null, Phrase.Of(key, [("camera", camera.Key), .. more]));

    private static string List(IEnumerable<Nest> nests) => string.Join(", ", nests.OrderBy(n => n.Transect.Name, StringComparer.Ordinal).ThenBy(n => n.Number).Select(Shown));

    private static string Shown(Nest nest) => nest.Transect.Name + "-" + Words.Numbers.Whole(nest.Number);
}
