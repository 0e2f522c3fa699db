using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>Collects the rows of one table, cell by name.</summary>
internal sealed class RowsOf(RecordKind kind, params ReadOnlySpan<string> columns)
{
    private readonly ImmutableArray<string> columns = [.. columns];
    private readonly ImmutableArray<RecordRow>.Builder rows = ImmutableArray.CreateBuilder<RecordRow>();

    /// <summary>Adds a row; columns that are not named stay empty.</summary>
    internal void Add(params ReadOnlySpan<(string Column, string Text)> cells)
    {
        var texts = new string[columns.Length];
        Array.Fill(texts, "");
        foreach (var (column, text) in cells)
        {
            var index = columns.IndexOf(column);
            if (index < 0) throw new ArgumentException("The table has no column " + column, nameof(cells));
            texts[index] = text;
        }

        rows.Add(new RecordRow(rows.Count + 2, [.. texts]));
    }

    internal RecordTable Table() => new(kind, columns, rows.ToImmutable());
}
