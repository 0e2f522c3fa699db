using System.Collections.Immutable;
using System.Text.Json.Nodes;

namespace Tussock.Exchange.Archive;

/// <summary>A table of an archive, ready to be written and described.</summary>
/// <param name="Name">Its name in the description.</param>
/// <param name="Path">Its file.</param>
/// <param name="Fields">Its columns, each with what a cell may hold, as Table Schema says it.</param>
/// <param name="Rows">Its rows.</param>
internal sealed record ArchiveTable(string Name, string Path, ImmutableArray<JsonObject> Fields, IReadOnlyList<ImmutableArray<string>> Rows)
{
    /// <summary>Columns by which a row is known; none where two rows may be alike.</summary>
    public ImmutableArray<string> Key { get; init; } = [];

    /// <summary>Tables that rows refer to, and the columns by which.</summary>
    public ImmutableArray<(string Table, ImmutableArray<string> Columns, ImmutableArray<string> There)> Refers { get; init; } = [];

    /// <summary>The address of the kind of row in Darwin Core; null for a table of the season.</summary>
    public string? RowType { get; init; }

    /// <summary>Names of the columns.</summary>
    public ImmutableArray<string> Columns { get; } = [.. Fields.Select(f => (string)f["name"]!)];
}
