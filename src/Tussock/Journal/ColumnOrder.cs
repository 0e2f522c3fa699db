using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Journal;

/// <summary>The columns of a table that came from files and from elsewhere.</summary>
internal static class ColumnOrder
{
    /// <summary>Columns as the file had them, <c>id</c> at the end where it had none.</summary>
    internal static ImmutableArray<string> WithId(ImmutableArray<string> columns) => columns.Contains("id") ? columns : columns.Add("id");

    /// <summary>Columns of a stored table: as the journal has them, then those that records use besides, in the order of the kind, then by name. Empty when there is no such table.</summary>
    internal static ImmutableArray<string> Stored(StoredSeason season, RecordKind kind)
    {
        var kept = NameList.Read(season.Named(JournalKind.Table, kind.Name)?.Text(FieldName.Order) ?? "");
        var known = kept.ToHashSet(StringComparer.Ordinal);
        var extra = new SortedSet<string>(StringComparer.Ordinal);
        var names = new HashSet<string>(StringComparer.Ordinal);
        foreach (var record in season.Of(kind.Name))
        {
            if (record.IsVoid) continue;
            foreach (var field in record.Fields) if (names.Add(field.Name) && FieldName.Column(field.Name) is { } column && !known.Contains(column)) extra.Add(column);
        }

        if (kept.IsEmpty && names.Count == 0) return [];
        var behind = kind.Columns.Select(c => c.Name).Where(extra.Contains).Concat(extra.Where(e => kind.ColumnNamed(e) is null));
        return WithId([.. kept, .. behind]);
    }

    /// <summary>Columns after an import: as they were when the file's come in the same order, else as in the file, with those that the file lacks behind.</summary>
    internal static ImmutableArray<string> After(ImmutableArray<string> stored, ImmutableArray<string> incoming)
    {
        var last = -1;
        var isSameOrder = true;
        foreach (var column in incoming)
        {
            // Where id stands tells nothing when the file had none.
            if (column == "id") continue;
            var at = stored.IndexOf(column);
            isSameOrder &= at > last;
            last = at;
        }

        if (isSameOrder && !stored.IsEmpty) return stored;
        return WithId([.. incoming, .. stored.Where(c => c != "id" && !incoming.Contains(c))]);
    }
}
