using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Fieldwork.Cameras;

/// <summary>What a camera's record shows, before an animal is named.</summary>
public enum ShownKind
{
    /// <summary>An animal.</summary>
    Animal,

    /// <summary>A person, or a vehicle with somebody in it.</summary>
    Person,

    /// <summary>Nothing.</summary>
    Blank,

    /// <summary>Somebody looked and could not tell.</summary>
    Unknown,

    /// <summary>Nobody has looked yet.</summary>
    NotLooked,
}

/// <summary>A camera that stood somewhere for a time, as its own records have it.</summary>
public sealed record PlacedCamera
{
    /// <summary>What it is called in its records; unique there.</summary>
    public required string Key { get; init; }

    /// <summary>Where it stands in the records.</summary>
    public required Place Source { get; init; }

    /// <summary>Texts that may name its nest: field and text.</summary>
    public ImmutableArray<(string Field, string Text)> Said { get; init; } = [];

    /// <summary>Text of the nest at which somebody says it stood; empty when nobody does.</summary>
    public string Decided { get; init; } = "";

    /// <summary>Its place.</summary>
    public Position? At { get; init; }

    /// <summary>Accuracy of the place, metres.</summary>
    public double? AccuracyM { get; init; }

    /// <summary>Local time from which it stood.</summary>
    public required DateTime From { get; init; }

    /// <summary>Local time until which it stood.</summary>
    public required DateTime To { get; init; }

    /// <summary>Name of the camera.</summary>
    public string Camera { get; init; } = "";

    /// <summary>Whether its records say that its clock can't be trusted.</summary>
    public bool HasClockIssues { get; init; }

    /// <summary>Whether it also took pictures by the clock, so that its last picture tells how long it worked.</summary>
    public bool TakesByTheClock { get; init; }

    /// <summary>Names and values of its tags.</summary>
    public ImmutableArray<KeyValuePair<string, string>> Tags { get; init; } = [];

    /// <summary>Value of a tag; empty when it has none.</summary>
    public string Tag(string name) => Tags.FirstOrDefault(t => t.Key == name).Value ?? "";
}

/// <summary>A picture that a camera took.</summary>
/// <param name="Key">What it is called in its records.</param>
/// <param name="Camera">Key of the camera.</param>
/// <param name="At">Local time by the camera's clock.</param>
/// <param name="File">Path or address.</param>
/// <param name="Type">Media type, for example image/jpeg.</param>
/// <param name="Hash">SHA-256 of its bytes; empty where they are not here.</param>
public sealed record CameraPicture(string Key, string Camera, DateTime At, string File, string Type, string Hash = "");

/// <summary>What somebody saw on pictures of a camera.</summary>
public sealed record Sighting
{
    /// <summary>What it is called in its records; unique there.</summary>
    public required string Key { get; init; }

    /// <summary>Key of the camera.</summary>
    public required string Camera { get; init; }

    /// <summary>Key of the one picture that it is about; empty where it is about a time.</summary>
    public string Picture { get; init; } = "";

    /// <summary>Name of the visit that it belongs to; empty when none is named.</summary>
    public string Visit { get; init; } = "";

    /// <summary>Whether it is about a whole visit and not about one picture.</summary>
    public bool IsWholeVisit { get; init; }

    /// <summary>Begin, local time by the camera's clock.</summary>
    public required DateTime From { get; init; }

    /// <summary>End, local time by the camera's clock.</summary>
    public required DateTime To { get; init; }

    /// <summary>What is shown.</summary>
    public required ShownKind Shown { get; init; }

    /// <summary>Whether the camera was being set up or tried.</summary>
    public bool IsSetUp { get; init; }

    /// <summary>Name of the animal as recorded.</summary>
    public string Species { get; init; } = "";

    /// <summary>Other names of the animal: its groups, vernacular names.</summary>
    public ImmutableArray<string> OtherNames { get; init; } = [];

    /// <summary>How many are shown; 1 when not said.</summary>
    public int Count { get; init; } = 1;

    /// <summary>Behaviours, the dominant one first.</summary>
    public ImmutableArray<string> Behaviours { get; init; } = [];

    /// <summary>Names and values of its tags.</summary>
    public ImmutableArray<KeyValuePair<string, string>> Tags { get; init; } = [];

    /// <summary>How sure whoever named it was, as written.</summary>
    public string Certainty { get; init; } = "";

    /// <summary>Value of a tag; empty when it has none.</summary>
    public string Tag(string name) => Tags.FirstOrDefault(t => t.Key == name).Value ?? "";
}

/// <summary>The records of cameras from one source. Times are local times of the season.</summary>
/// <param name="Name">Name of the source, the same when it comes again corrected.</param>
/// <param name="Cameras">Cameras.</param>
/// <param name="Pictures">Pictures.</param>
/// <param name="Sightings">Sightings.</param>
public sealed record CameraRecords(string Name, ImmutableArray<PlacedCamera> Cameras, ImmutableArray<CameraPicture> Pictures, ImmutableArray<Sighting> Sightings);

/// <summary>Lists of tags as camera records write them.</summary>
public static class CameraTags
{
    /// <summary>Reads "a:b|c": names in small letters with underscores, values as written.</summary>
    public static ImmutableArray<KeyValuePair<string, string>> Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return [.. text.Split('|', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(One)];
    }

    private static KeyValuePair<string, string> One(string tag)
    {
        var cut = tag.IndexOf(':');
        return cut < 0 ? KeyValuePair.Create(Records.Cell.Token(tag), "") : KeyValuePair.Create(Records.Cell.Token(tag[..cut]), tag[(cut + 1)..].Trim());
    }
}
