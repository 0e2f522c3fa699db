namespace Tussock.Records;

/// <summary>A pasture: the unit of land that is managed and judged.</summary>
/// <remarks>Identity is property and name. May be shared between threads.</remarks>
public sealed class Pasture
{
    /// <summary>Name of the property.</summary>
    public required string Property { get; init; }

    /// <summary>Name of the pasture, unique within the property.</summary>
    public required string Name { get; init; }

    /// <summary>Area in hectares, when given.</summary>
    public double? AreaHa { get; init; }

    /// <summary>The row it was read from.</summary>
    public required Source Source { get; init; }
}
