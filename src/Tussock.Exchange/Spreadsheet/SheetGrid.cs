using System.Collections.Immutable;

namespace Tussock.Exchange.Spreadsheet;

/// <summary>What stands in a cell of a sheet.</summary>
internal enum CellShape
{
    /// <summary>A text.</summary>
    Text,

    /// <summary>A number.</summary>
    Number,

    /// <summary>A date, a time or both.</summary>
    Moment,

    /// <summary>True or false.</summary>
    Truth,

    /// <summary>An error of a formula, such as #N/A.</summary>
    Error,

    /// <summary>A formula that no program has worked out yet.</summary>
    NotWorkedOut,
}

/// <summary>A filled cell as text: numbers shortest, dates 2026-05-14, times 18:30, both with a T between.</summary>
/// <param name="Column">Column, 0 = A.</param>
/// <param name="Text">Its text.</param>
/// <param name="Shape">What it was.</param>
internal readonly record struct GridCell(int Column, string Text, CellShape Shape);

/// <summary>A row of a sheet.</summary>
/// <param name="Number">Its number, 1 = the first.</param>
/// <param name="Cells">Filled cells, by column.</param>
internal sealed record GridRow(int Number, ImmutableArray<GridCell> Cells);

/// <summary>A sheet as it was read: rows with anything in them.</summary>
/// <param name="Name">Name on its tab.</param>
/// <param name="Rows">Rows, by number.</param>
internal sealed record SheetGrid(string Name, ImmutableArray<GridRow> Rows)
{
    /// <summary>Ranges of several columns that were merged, as A1:B2.</summary>
    internal ImmutableArray<string> MergedAcross { get; init; } = [];
}

/// <summary>Names of cells: A1, AB12.</summary>
internal static class CellName
{
    /// <summary>Most columns that the format has.</summary>
    internal const int Columns = 16_384;

    /// <summary>Most rows that the format has.</summary>
    internal const int Rows = 1_048_576;

    /// <summary>Letters of a column, 0 = A.</summary>
    internal static string Letters(int column)
    {
        var letters = "";
        for (var rest = column; rest >= 0; rest = (rest / 26) - 1) letters = (char)('A' + (rest % 26)) + letters;
        return letters;
    }

    /// <summary>Column (0 = A) and row (1 = the first) of a name; null when it is none.</summary>
    internal static (int Column, int Row)? Parse(ReadOnlySpan<char> name)
    {
        var at = 0;
        var column = 0;
        while (at < name.Length && char.IsAsciiLetter(name[at]) && column <= Columns) column = (column * 26) + (char.ToUpperInvariant(name[at++]) - 'A' + 1);
        if (at == 0 || column > Columns || !int.TryParse(name[at..], System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var row) || row is < 1 or > Rows) return null;
        return (column - 1, row);
    }
}
