using System.Collections.Immutable;

namespace Tussock.Exchange.Places;

/// <summary>A named value that goes with a thing on a map; named as the column of the season folder.</summary>
/// <param name="Name">Name, for example <c>transect</c>.</param>
/// <param name="Text">The value.</param>
public readonly record struct MapField(string Name, string Text);

/// <summary>One thing on a map: a pasture, a line, a flag, a nest, or whatever a file from elsewhere holds.</summary>
/// <param name="Name">Its name as people read it; empty when it has none.</param>
/// <param name="Shape">What it looks like.</param>
/// <param name="Fields">Values that go with it; empty ones are left out.</param>
public sealed record MapFeature(string Name, MapShape Shape, ImmutableArray<MapField> Fields)
{
    /// <summary>Name of the field that says what the thing is: pasture, transect, start, end, flag, nest.</summary>
    public const string Kind = "kind";

    /// <summary>Name of the field that says <c>yes</c> where places are blurred.</summary>
    public const string Coarsened = "coarsened";

    /// <summary>Where it was read: file and line, or file and running number.</summary>
    public Place From { get; init; } = new("");

    /// <summary>Text of a field in any spelling of capitals, trimmed; empty when there is none.</summary>
    public string Field(string name)
    {
        foreach (var field in Fields) if (string.Equals(field.Name, name, StringComparison.OrdinalIgnoreCase)) return field.Text.Trim();
        return "";
    }

    /// <inheritdoc/>
    public bool Equals(MapFeature? other) => other is not null && Name == other.Name && Shape.Equals(other.Shape) && Fields.AsSpan().SequenceEqual(other.Fields.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Name, Fields.Length);
}

/// <summary>A map to be written: its name, what it says about itself, and the things on it.</summary>
/// <param name="Name">Name of the map.</param>
/// <param name="Description">What it says about itself: exact or coarsened, and how.</param>
/// <param name="Features">The things on it, pastures first, then lines, then points.</param>
public sealed record MapDocument(string Name, string Description, ImmutableArray<MapFeature> Features);

/// <summary>What was read from a file of places.</summary>
/// <param name="Features">The things that could be read, in the order of the file.</param>
/// <param name="Problems">What stops, and what is worth knowing.</param>
public sealed record MapReading(ImmutableArray<MapFeature> Features, ImmutableArray<Problem> Problems)
{
    /// <summary>Whether something stops the import.</summary>
    public bool IsStopped => Problems.Any(p => p.Severity == Severity.Stop);
}
