using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Desk.Entry;

/// <summary>A box of a printed sheet, and the column that it is written into.</summary>
/// <param name="Name">Name of the column.</param>
/// <param name="Label">Word on the sheet.</param>
/// <param name="Choices">What letters stand for; none where anything is typed.</param>
/// <param name="IsForWholeNests">Whether what is typed once, at the head, holds for whole nests only.</param>
public sealed record EntryColumn(string Name, string Label, ImmutableArray<EntryChoice> Choices, bool IsForWholeNests = false)
{
    /// <summary>In a cell: nothing, whatever the head says.</summary>
    public const string Nothing = "-";

    /// <summary>What a box is for while it is empty: an example, or the value that holds without it.</summary>
    public string Hint { get; init; } = "";

    /// <summary>Whether the box stands once on the paper's line, though the line is several records: what is written in it goes into each.</summary>
    public bool IsForLine { get; init; }

    /// <summary>Whether only what letters stand for can be written, though the column takes any text.</summary>
    public bool IsClosed { get; init; }

    /// <summary>Tells boxes of one column on one line apart: the cover class; empty where there is one.</summary>
    public string Lane { get; init; } = "";

    /// <summary>Whether a number that is not negative is expected, though the column takes any text.</summary>
    public bool IsAmount { get; init; }

    /// <summary>Whether letters stand for other words here than in other boxes of its column.</summary>
    public bool HasOwnLetters { get; init; }

    /// <summary>The name under which its letters are listed.</summary>
    public string Letters => HasOwnLetters ? Box : Name;

    /// <summary>Name of the box on its line.</summary>
    public string Box => Lane.Length == 0 ? Name : Lane + "." + Name;

    /// <summary>What was typed as records spell it: a letter or word becomes its token, 930 in a box for the time 09:30.</summary>
    public string Read(string typed)
    {
        var text = typed.ReplaceLineEndings("\n").Trim();
        if (Choices.IsEmpty) return IsTime && text.Length is 3 or 4 && text.All(char.IsAsciiDigit) ? text[..^2].PadLeft(2, '0') + ":" + text[^2..] : text;
        var choice = Choices.FirstOrDefault(c => string.Equals(c.Letter, text, StringComparison.OrdinalIgnoreCase) || string.Equals(Plain(c.Word), Plain(text), StringComparison.OrdinalIgnoreCase) || Cell.Token(c.Token) == Cell.Token(text));
        return text.Length == 0 || choice is null ? text : choice.Token;
    }

    /// <summary>What a record holds, as the sheet spells it.</summary>
    public string Shown(string stored) => Choices.FirstOrDefault(c => Cell.Token(c.Token) == Cell.Token(stored))?.Word ?? stored;

    /// <summary>Why a text can't stand here; null when it can. Letters and words are named where they are what is expected.</summary>
    public Phrase? Expected(RecordKind kind, string text)
    {
        var expected = kind.ColumnNamed(Name) is { } column ? CellCheck.Expected(column, text) : null;
        if (IsAmount && text.Length > 0 && text != Nothing) expected = CellCheck.Expected(new Column(Name, ColumnType.Amount), text);
        // In a file an odd direction is a finding of the review; whoever types it now can still look at the paper.
        if (text.Length > 0 && kind.ColumnNamed(Name)?.Type == ColumnType.Direction && !CellCheck.IsDirection(text)) expected = Phrase.Of("enter.expect_direction");
        if (IsClosed && text.Length > 0 && text != Nothing && Choices.All(c => c.Token != text)) expected = Phrase.Of("enter.expect_one_of", ("words", ""));
        return expected is null || Choices.IsEmpty ? expected : Phrase.Of("enter.expect_one_of", ("words", string.Join(", ", Choices.Select(c => c.Letter + " = " + c.Word))));
    }

    /// <summary>A word as people type it in a hurry: without its accents.</summary>
    private static string Plain(string word) => string.Concat(word.Select(c => "áéíóúüñÁÉÍÓÚÜÑ".IndexOf(c, StringComparison.Ordinal) is >= 0 and var at ? "aeiouunAEIOUUN"[at] : c));

    private bool IsTime => Name is "visited_at" or "set_at";
}
