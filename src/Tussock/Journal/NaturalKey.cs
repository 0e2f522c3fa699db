using System.Collections.Immutable;
using System.Globalization;
using Tussock.Records;

namespace Tussock.Journal;

/// <summary>The natural key of a row as one text: what makes it the same row in two files without ids.</summary>
/// <remarks>Not unique: two phones may both have nest 5 of a line. Rows with equal keys are counted.</remarks>
public static class NaturalKey
{
    /// <summary>Stands between the parts of a key.</summary>
    public const char Between = '\u001f';

    /// <summary>Columns of the key of a kind of journal record.</summary>
    public static ImmutableArray<string> Columns(string kind) => kind switch
    {
        JournalKind.Season => ["season.name"],
        JournalKind.Table or JournalKind.Text => ["name"],
        _ => RecordKind.Named(kind)?.Key ?? [],
    };

    /// <summary>One part of a key in its canonical spelling: "03" is 3, "Not relocated" is the token, text loses blanks at its ends.</summary>
    /// <param name="kind">The kind; null for one that describes the folder.</param>
    /// <param name="column">Name of the column.</param>
    /// <param name="text">Text of the cell.</param>
    public static string Part(RecordKind? kind, string column, string text)
    {
        var trimmed = text.Trim();
        return kind?.ColumnNamed(column)?.Type switch
        {
            ColumnType.Count => Cell.Whole(trimmed)?.ToString(CultureInfo.InvariantCulture) ?? trimmed,
            ColumnType.Number or ColumnType.Amount => Cell.Number(trimmed)?.ToString("R", CultureInfo.InvariantCulture) ?? trimmed,
            ColumnType.Token => Cell.Token(trimmed),
            _ => trimmed,
        };
    }

    /// <summary>The key of a stored record.</summary>
    public static string Of(string kind, StoredRecord record)
    {
        var known = RecordKind.Named(kind);
        return string.Join(Between, Columns(kind).Select(c => Part(known, c, record.Text(FieldName.OfColumn(c)))));
    }

    /// <summary>The id of the n-th row (from 1) with a key in a season.</summary>
    public static Guid Id(Guid season, string kind, string key, int n) =>
        Uuid.FromName(season, string.Create(CultureInfo.InvariantCulture, $"{kind}{Between}{key}{Between}{n}"));

    /// <summary>The id of a season by its name.</summary>
    public static Guid SeasonId(string name) => Uuid.FromName(Uuid.Seasons, name);

    /// <summary>The key as people read it.</summary>
    public static string Shown(string key) => string.Join(", ", key.Split(Between).Where(p => p.Length > 0));
}
