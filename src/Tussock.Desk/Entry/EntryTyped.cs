using System.Collections.Immutable;

namespace Tussock.Desk.Entry;

/// <summary>What came back with a form.</summary>
/// <param name="Head">Texts of the head by column.</param>
/// <param name="Cells">Texts of the rows.</param>
/// <param name="Shown">By row: the record that the form showed and the changes behind its values, see <see cref="ShownRecord"/>.</param>
/// <param name="Sure">Dates that were warned about and pressed on.</param>
public sealed record EntryTyped(ImmutableDictionary<string, string> Head, ImmutableDictionary<(string Row, string Column), string> Cells, ImmutableDictionary<string, string> Shown, string Sure)
{
    /// <summary>Nothing.</summary>
    public static EntryTyped Nothing { get; } = new(ImmutableDictionary<string, string>.Empty, ImmutableDictionary<(string, string), string>.Empty, ImmutableDictionary<string, string>.Empty, "");

    /// <summary>Text of a cell: its row's own, else the one that stands once on its line; empty when neither came.</summary>
    public string Cell(EntryRow row, string column) => Cells.TryGetValue((row.Key, column), out var own) ? own : Cells.GetValueOrDefault((row.Line, column), "");

    /// <summary>Text at the head; empty when it did not come.</summary>
    public string AtHead(string column) => Head.GetValueOrDefault(column, "");
}
