namespace Tussock.Fieldwork.Cameras;

/// <summary>Which pictures may show people: those that a sighting of people names, and all within its time. They are not taken in; the lead looks at them where they are.</summary>
public static class PicturesOfPeople
{
    /// <summary>Keys of the pictures of one camera that may show people.</summary>
    /// <param name="sightings">Its sightings.</param>
    /// <param name="pictures">Its pictures.</param>
    public static IReadOnlySet<string> Of(IEnumerable<Sighting> sightings, IEnumerable<CameraPicture> pictures)
    {
        var people = sightings.Where(s => s.Shown == ShownKind.Person).ToArray();
        var named = people.Select(s => s.Picture).Where(p => p.Length > 0).ToHashSet(StringComparer.Ordinal);
        var spans = new SpansOfTime(people.Where(s => s.Picture.Length == 0 || s.IsWholeVisit).Select(s => (s.From, s.To)));
        named.UnionWith(pictures.Where(p => spans.Has(p.At)).Select(p => p.Key));
        return named;
    }
}
