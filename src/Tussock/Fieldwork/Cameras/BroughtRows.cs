using System.Collections.Immutable;
using System.Globalization;
using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Fieldwork.Cameras;

/// <summary>Rows of one kind that come from outside, again and again: new ones are added, corrected ones put in, those changed here since are kept and told.</summary>
internal sealed class BroughtRows
{
    private readonly RecordKind kind;
    private readonly string package;
    private readonly bool overrules;
    private readonly List<string> columns;
    private readonly List<Dictionary<string, string>?> rows = [];
    private readonly List<RecordRow> former;
    private readonly int width;
    private readonly Dictionary<string, int> stood = new(StringComparer.Ordinal);
    private readonly Dictionary<string, int> byId = new(StringComparer.OrdinalIgnoreCase);
    private readonly HashSet<string> came = new(StringComparer.OrdinalIgnoreCase);

    internal BroughtRows(SeasonTables tables, RecordKind kind, string package, bool overrules)
    {
        (this.kind, this.package, this.overrules) = (kind, package, overrules);
        var table = tables.Table(kind);
        columns = [.. table?.Columns ?? ["id"]];
        former = [.. table?.Rows ?? []];
        width = columns.Count;
        for (var i = 0; i < width; i++) stood.TryAdd(columns[i], i);
        var id = columns.IndexOf("id");
        for (var i = 0; i < former.Count; i++) if (id >= 0 && former[i].Cells[id].Length > 0) byId.TryAdd(former[i].Cells[id], i);
        for (var i = 0; i < former.Count; i++) rows.Add(null);
    }

    internal int Added { get; private set; }

    internal int Changed { get; private set; }

    /// <summary>Rows changed both here and where they come from.</summary>
    internal List<int> Disputed { get; } = [];

    /// <summary>Lines of rows that came before and did not come now, with their ids.</summary>
    internal IEnumerable<(int Line, Guid Id)> Missing =>
        byId.Where(p => Stored(p.Value, CameraColumns.Package) == package && !came.Contains(p.Key) && Guid.TryParse(p.Key, out _)).OrderBy(p => p.Value).Select(p => (former[p.Value].Line, Guid.Parse(p.Key)));

    internal void Bring(Guid id, params ReadOnlySpan<(string Column, string Text)> cells)
    {
        var text = id.ToString();
        came.Add(text);
        var values = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (column, value) in cells) values[column] = value;
        var print = Print(values.Select(v => v.Value));
        if (!byId.TryGetValue(text, out var row)) Add(text, values, print);
        else Compare(row, values, print);
    }

    /// <summary>The table; null where there was none and nothing came.</summary>
    internal RecordTable? Made(bool withoutMissing)
    {
        if (rows.Count == 0) return null;
        var gone = withoutMissing ? Missing.Select(m => m.Line).ToHashSet() : [];
        var order = columns.ToImmutableArray();
        var made = ImmutableArray.CreateBuilder<RecordRow>();
        for (var i = 0; i < rows.Count; i++)
        {
            if (i < former.Count && gone.Contains(former[i].Line)) continue;
            if (rows[i] is null && columns.Count == width) made.Add(former[i]);
            else made.Add(new RecordRow(i < former.Count ? former[i].Line : i + 2, [.. order.Select(c => rows[i]?.GetValueOrDefault(c) ?? (i < former.Count ? Stored(i, c) : ""))]));
        }

        return new RecordTable(kind, order, made.ToImmutable());
    }

    private void Add(string id, Dictionary<string, string> values, string print)
    {
        Added++;
        Set(rows.Count, values, print);
        rows[^1]!["id"] = id;
        if (!columns.Contains("id")) columns.Add("id");
    }

    private void Compare(int row, Dictionary<string, string> values, string print)
    {
        if (Stored(row, CameraColumns.Brought) == print || values.All(v => Stored(row, v.Key) == v.Value)) return;
        var isOwn = Stored(row, CameraColumns.Brought) != Print(values.Keys.Select(c => Stored(row, c)));
        if (isOwn) Disputed.Add(former[row].Line);
        if (isOwn && !overrules) return;
        Changed++;
        Set(row, values, print);
    }

    private void Set(int row, Dictionary<string, string> values, string print)
    {
        values[CameraColumns.Package] = package;
        values[CameraColumns.Brought] = print;
        foreach (var column in values.Where(v => (v.Value.Length > 0 || kind.ColumnNamed(v.Key)?.IsInHeader == true) && !columns.Contains(v.Key)).Select(v => v.Key)) columns.Insert(columns.Count > 0 && columns[^1] == "id" ? columns.Count - 1 : columns.Count, column);
        if (row == rows.Count) rows.Add(values);
        else rows[row] = values;
    }

    private string Stored(int row, string column) =>
        row < former.Count && stood.TryGetValue(column, out var at) && at < former[row].Cells.Length ? former[row].Cells[at] : "";

    private static string Print(IEnumerable<string> cells) => RowDigest.Hash(string.Join('\u001f', cells)).ToString("x16", CultureInfo.InvariantCulture);
}
