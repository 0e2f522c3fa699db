using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>What a cell of a column may hold.</summary>
public enum ColumnType
{
    /// <summary>Any text.</summary>
    Text,

    /// <summary>A whole number, 0 or more.</summary>
    Count,

    /// <summary>A number, decimal point.</summary>
    Number,

    /// <summary>A number, 0 or more.</summary>
    Amount,

    /// <summary>A date, year-month-day.</summary>
    Date,

    /// <summary>A local time of day (18:30) or a local date and time (2024-05-15T18:30).</summary>
    LocalTime,

    /// <summary>A local date, or a local date and time.</summary>
    DateMaybeTime,

    /// <summary>yes or no.</summary>
    YesNo,

    /// <summary>One of <see cref="Column.Tokens"/>; capitals and spaces are taken too.</summary>
    Token,

    /// <summary>A direction: one of 16 compass points, or degrees in [0, 360].</summary>
    Direction,

    /// <summary>Degrees of latitude in [−90, 90].</summary>
    Latitude,

    /// <summary>Degrees of longitude in [−180, 180].</summary>
    Longitude,

    /// <summary>A UUID.</summary>
    Uuid,
}

/// <summary>One column of a kind of record: its name (the same in CSV, JSON and on screen) and what its cells may hold.</summary>
/// <param name="Name">Column name, lower case with underscores.</param>
/// <param name="Type">What a cell may hold.</param>
/// <param name="IsRequired">Whether the header must have it and every cell must be filled.</param>
public sealed record Column(string Name, ColumnType Type, bool IsRequired = false)
{
    /// <summary>Tokens that a cell of type <see cref="ColumnType.Token"/> may hold.</summary>
    public ImmutableArray<string> Tokens { get; init; } = [];

    /// <summary>Whether the header must have it, though cells may be empty.</summary>
    public bool IsInHeader { get; init; }
}
