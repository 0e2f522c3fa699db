using Tussock.Land;

namespace Tussock.Records;

/// <summary>Whether a cell holds what its column allows, and if not, what was expected.</summary>
public static class CellCheck
{
    /// <summary>The reason why a cell can't be read; null when it can, or is empty.</summary>
    /// <param name="column">The column.</param>
    /// <param name="text">Text of the cell, trimmed.</param>
    public static Phrase? Expected(Column column, string text)
    {
        if (text.Length == 0) return column.IsRequired ? Phrase.Of("reading.expect_filled") : null;
        return column.Type switch
        {
            ColumnType.Count when Cell.Whole(text) is not >= 0 => Phrase.Of("reading.expect_count"),
            ColumnType.Number when Cell.Number(text) is null => NumberExpected(text),
            ColumnType.Amount when Cell.Number(text) is not >= 0 => NumberExpected(text),
            ColumnType.Date when Cell.Date(text) is null => Phrase.Of("reading.expect_date"),
            ColumnType.LocalTime when Cell.Time(text) is null => Phrase.Of("reading.expect_time"),
            ColumnType.DateMaybeTime when Cell.DateOf(text) is null || (text.Length > 10 && Cell.Time(text) is null) => Phrase.Of("reading.expect_datetime"),
            ColumnType.YesNo when Cell.YesNo(text) is null => Phrase.Of("reading.expect_yesno"),
            ColumnType.Token when !column.Tokens.Contains(Cell.Token(text)) => Phrase.Of("reading.expect_token", ("tokens", string.Join(", ", column.Tokens))),
            ColumnType.Latitude when Cell.Number(text) is not (>= -90 and <= 90) => Phrase.Of("reading.expect_latitude"),
            ColumnType.Longitude when Cell.Number(text) is not (>= -180 and <= 180) => Phrase.Of("reading.expect_longitude"),
            ColumnType.Uuid when !Guid.TryParse(text, out _) => Phrase.Of("reading.expect_uuid"),
            _ => null,
        };
    }

    /// <summary>Whether a direction can be read; an impossible one is a contradiction for the inspector, not a reason to stop an import.</summary>
    public static bool IsDirection(string text) => Direction.Parse(text) is not null;

    private static Phrase NumberExpected(string text) => text.Contains(',', StringComparison.Ordinal) ? Phrase.Of("reading.expect_point") : Phrase.Of("reading.expect_number");
}
