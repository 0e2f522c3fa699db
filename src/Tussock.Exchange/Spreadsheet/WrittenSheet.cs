using System.Collections.Immutable;

namespace Tussock.Exchange.Spreadsheet;

/// <summary>How a cell looks, and what a program makes of what is typed into it.</summary>
internal enum CellLook
{
    /// <summary>As it comes.</summary>
    Plain,

    /// <summary>A text, whatever is typed: a name like 5-6 becomes no date.</summary>
    Text,

    /// <summary>A date, year-month-day.</summary>
    Date,

    /// <summary>A time of day.</summary>
    Time,

    /// <summary>A date and a time.</summary>
    Moment,

    /// <summary>A heading of a column.</summary>
    Heading,

    /// <summary>A heading of a column that is only there to be read.</summary>
    HintHeading,

    /// <summary>A text that is only there to be read.</summary>
    Hint,

    /// <summary>A date that is only there to be read.</summary>
    HintDate,

    /// <summary>A title.</summary>
    Title,

    /// <summary>Running text, broken into lines.</summary>
    Words,
}

/// <summary>A cell to be written: a text, or a number.</summary>
/// <param name="Text">The text; not looked at where there is a number.</param>
/// <param name="Number">The number.</param>
/// <param name="Look">How it looks.</param>
internal readonly record struct WrittenCell(string Text, double? Number, CellLook Look);

/// <summary>What is checked when somebody types.</summary>
internal enum EntryRule
{
    /// <summary>One of a named list; <see cref="EntryCheck.First"/> is its name or a formula.</summary>
    List,

    /// <summary>A whole number.</summary>
    Whole,

    /// <summary>A number.</summary>
    Decimal,

    /// <summary>A date.</summary>
    Date,

    /// <summary>A time of day.</summary>
    Time,
}

/// <summary>A check of what is typed into a column.</summary>
/// <param name="Rule">What is checked.</param>
/// <param name="First">Least value, or the list.</param>
/// <param name="Last">Greatest value; null: none.</param>
/// <param name="Message">What is said when it doesn't fit; null: the list is only an offer.</param>
/// <param name="IsStrict">Whether what doesn't fit is refused; otherwise it may be kept.</param>
internal sealed record EntryCheck(EntryRule Rule, string First, string? Last, string? Message, bool IsStrict);

/// <summary>A column of a sheet to be written.</summary>
/// <param name="Heading">Its heading; empty: none.</param>
/// <param name="Width">Width in characters.</param>
/// <param name="Look">Look of its empty cells.</param>
internal sealed record WrittenColumn(string Heading, double Width, CellLook Look)
{
    /// <summary>What its heading's note says; empty: no note.</summary>
    internal string Note { get; init; } = "";

    /// <summary>The check of its cells.</summary>
    internal EntryCheck? Check { get; init; }

    /// <summary>Whether it is folded away behind a sign that opens it.</summary>
    internal bool IsFolded { get; init; }

    /// <summary>Whether it is only there to be read.</summary>
    internal bool IsHint { get; init; }
}

/// <summary>A sheet to be written.</summary>
/// <param name="Name">Name on its tab.</param>
/// <param name="Columns">Its columns.</param>
/// <param name="Rows">Its rows, without the heading.</param>
internal sealed record WrittenSheet(string Name, ImmutableArray<WrittenColumn> Columns, IReadOnlyList<ImmutableArray<WrittenCell>> Rows)
{
    /// <summary>Whether it is hidden.</summary>
    internal bool IsHidden { get; init; }

    /// <summary>Whether the first row is a heading that stays in sight and is printed on each page.</summary>
    internal bool HasHeading { get; init; } = true;

    /// <summary>Columns on the left that stay in sight.</summary>
    internal int Frozen { get; init; }

    /// <summary>Rows that checks reach.</summary>
    internal int CheckedRows { get; init; } = 2_000;
}

/// <summary>A named range, for lists.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Range">Its cells, with their sheet.</param>
internal readonly record struct NamedRange(string Name, string Range);
