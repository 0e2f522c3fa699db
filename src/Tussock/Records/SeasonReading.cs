using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>Makes a <see cref="Season"/> of its tables, or says everything that stops it.</summary>
/// <remarks>
/// Unreadable or ambiguous rows stop (a cell that can't be read, a duplicate nest, a visit to no nest, a negative day). Contradictions between
/// readable rows don't: the fate rule knows how to use them, and the review reports them. Cost: one pass over the rows.
/// </remarks>
public static class SeasonReading
{
    /// <summary>Reads a season from its tables.</summary>
    /// <param name="tables">The tables.</param>
    /// <param name="problems">All that is wrong; empty exactly when there is a season.</param>
    /// <returns>The season; null when something stops it.</returns>
    public static Season? Read(SeasonTables tables, out ImmutableArray<Problem> problems)
    {
        var found = new List<Problem>();
        var settings = SettingsReading.Read(tables.Package, found);
        var ofKind = new List<Problem>[RecordKind.All.Length];
        Numerics.Ordered.For(ofKind.Length, k => ofKind[k] = OfKind(RecordKind.All[k], tables));
        foreach (var problemsOfKind in ofKind) found.AddRange(problemsOfKind);

        // Cells that can't be read would only cause findings about the same rows again.
        var season = found.Count == 0 ? new SeasonBuilder(tables, settings!, found).Build() : null;
        problems = [.. found];
        return found.Count == 0 ? season : null;
    }

    private static List<Problem> OfKind(RecordKind kind, SeasonTables tables)
    {
        var found = new List<Problem>();
        if (tables.Table(kind) is { } table) TableCheck.Cells(table, found);
        else if (kind.IsRequired) found.Add(new Problem("file_missing", Severity.Stop, new Place(kind.File), Phrase.Of("reading.file_missing", ("file", kind.File)), Phrase.Of("reading.file_missing_todo", ("file", kind.File))));
        return found;
    }
}
