using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Exchange.Places;

/// <summary>Gathers what a file of places holds and what is wrong with it; the first faults one by one, the rest counted.</summary>
/// <param name="file">Name of the file.</param>
internal sealed class MapFindings(string file)
{
    private const int Most = 100;
    private readonly List<Problem> problems = [];
    private readonly List<MapFeature> features = [];
    private int points;
    private int more;

    /// <summary>Greatest size of a file, and of what is packed in one.</summary>
    internal const int MostBytes = 64 << 20;

    private const int MostRings = 500;
    private const int MostFeatures = 200_000;
    private const int MostPoints = 4_000_000;

    /// <summary>Whether the file has grown beyond what is read; the reader goes no further then.</summary>
    internal bool IsFull => features.Count > MostFeatures || points > MostPoints;

    /// <summary>Adds a thing.</summary>
    internal void Add(MapFeature feature)
    {
        points += feature.Shape switch
        {
            MapLine line => line.Points.Length,
            MapArea area => area.Pieces.Sum(p => p.Rings.Sum(r => r.Length)),
            _ => 1,
        };
        features.Add(feature);
    }

    /// <summary>Adds what stops the import.</summary>
    internal void Stop(Place? at, Phrase what, Phrase toDo) => Add(Severity.Stop, at, what, toDo);

    /// <summary>Adds what is worth knowing.</summary>
    internal void Note(Place? at, Phrase what, Phrase toDo) => Add(Severity.Note, at, what, toDo);

    /// <summary>A place of the file.</summary>
    internal Place At(int? line = null, string? column = null) => new(file, line, column);

    /// <summary>A place of WGS 84 from the text of its degrees; null, and told, when it is none.</summary>
    internal Position? Position(Place at, string latitude, string longitude)
    {
        var north = Cell.Number(latitude.Trim());
        var east = Cell.Number(longitude.Trim());
        if (north is >= -90 and <= 90 && east is >= -180 and <= 180) return new Position(north.Value, east.Value);
        Stop(at, Phrase.Of("maps.no_place", ("lat", TableCheck.Shown(latitude)), ("lon", TableCheck.Shown(longitude))), Phrase.Of("maps.no_place_todo"));
        return null;
    }

    /// <summary>An area of rings of which nobody says what is a hole; null, and told, when there is none.</summary>
    internal MapArea? Area(Place at, IReadOnlyList<ImmutableArray<Position>?> rings)
    {
        var whole = rings.OfType<ImmutableArray<Position>>().ToArray();
        if (whole.Length == rings.Count && whole.Length is > 0 and <= MostRings) return new MapArea(Rings.Assembled(whole));
        if (whole.Length > MostRings) Stop(at, Phrase.Of("maps.too_many_rings", ("most", MostRings)), Phrase.Of("maps.too_many_todo"));
        else Stop(at, Phrase.Of("maps.bad_ring"), Phrase.Of("maps.bad_ring_todo"));
        return null;
    }

    /// <summary>What was read.</summary>
    internal MapReading Reading()
    {
        if (IsFull) Stop(null, Phrase.Of("maps.too_many", ("features", MostFeatures), ("points", MostPoints)), Phrase.Of("maps.too_many_todo"));
        if (more > 0) problems.Add(new Problem("places", Severity.Stop, At(), Phrase.Of("folder.more_problems", ("count", more)), Phrase.Of("folder.more_problems_todo")));
        return new MapReading([.. features], [.. problems]);
    }

    private void Add(Severity severity, Place? at, Phrase what, Phrase toDo)
    {
        if (problems.Count < Most) problems.Add(new Problem("places", severity, at ?? At(), what, toDo));
        else more++;
    }
}
