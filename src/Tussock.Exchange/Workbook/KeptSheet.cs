using System.Collections.Immutable;
using System.Text;
using Tussock.Exchange.Spreadsheet;
using Tussock.Records;

namespace Tussock.Exchange.Workbook;

/// <summary>The hidden sheet that keeps what a season has and no row of a sheet says: columns and their order, the list of files, boundaries and other texts.</summary>
internal sealed class KeptSheet
{
    /// <summary>Name of the sheet.</summary>
    internal const string Name = "kept";

    // A cell holds 32,767 characters (ECMA-376 names no limit; the programs do); signs that are written out take seven.
    private const int Piece = 4_000;
    private const string Columns = "columns", Resource = "resource", Text = "text";

    private readonly Dictionary<(string Part, string Name), string> values = [];

    /// <summary>The list of files, one JSON object a file.</summary>
    internal ImmutableArray<string> Resources => [.. values.Where(v => v.Key.Part == Resource).OrderBy(v => v.Key.Name, StringComparer.Ordinal).Select(v => v.Value)];

    /// <summary>Texts by file.</summary>
    internal IEnumerable<KeyValuePair<string, string>> Texts => values.Where(v => v.Key.Part == Text).Select(v => KeyValuePair.Create(v.Key.Name, v.Value));

    /// <summary>The columns that a table had, in order; null when the season had no such table, or nothing is kept.</summary>
    internal ImmutableArray<string>? ColumnsOf(RecordKind kind) => values.TryGetValue((Columns, kind.Name), out var names) ? [.. names.Split('\u001F')] : null;

    /// <summary>The sheet of a season.</summary>
    internal static WrittenSheet Write(SeasonTables tables)
    {
        var rows = new List<ImmutableArray<WrittenCell>>();
        foreach (var table in tables.Tables) Add(Columns, table.Kind.Name, string.Join('\u001F', table.Columns));
        for (var i = 0; i < tables.Package.Resources.Length; i++) Add(Resource, i.ToString("D4", System.Globalization.CultureInfo.InvariantCulture), tables.Package.Resources[i]);
        foreach (var (name, text) in tables.Texts) Add(Text, name, text);
        return new WrittenSheet(Name, [new WrittenColumn("part", 12, CellLook.Text), new WrittenColumn("name", 20, CellLook.Text), new WrittenColumn("value", 80, CellLook.Text)], rows) { IsHidden = true };

        void Add(string part, string name, string value)
        {
            for (var at = 0; at == 0 || at < value.Length; at += Piece)
            {
                rows.Add([new WrittenCell(part, null, CellLook.Text), new WrittenCell(name, null, CellLook.Text), new WrittenCell(value.Substring(at, Math.Min(Piece, value.Length - at)), null, CellLook.Text)]);
            }
        }
    }

    /// <summary>Reads the sheet; nothing of a workbook that has none.</summary>
    internal static KeptSheet Read(SheetGrid? grid)
    {
        var kept = new KeptSheet();
        var texts = new Dictionary<(string, string), StringBuilder>();
        foreach (var row in grid?.Rows.Skip(1) ?? [])
        {
            var cells = row.Cells.Where(c => c.Column < 3).ToDictionary(c => c.Column, c => c.Text);
            if (!cells.TryGetValue(0, out var part) || !cells.TryGetValue(1, out var name)) continue;
            if (!texts.TryGetValue((part, name), out var text)) texts.Add((part, name), text = new StringBuilder());
            text.Append(cells.GetValueOrDefault(2));
        }

        foreach (var (key, text) in texts) kept.values.Add(key, text.ToString());
        return kept;
    }
}
