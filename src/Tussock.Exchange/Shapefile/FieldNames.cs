using System.Collections.Immutable;

namespace Tussock.Exchange.Shapefile;

/// <summary>Column names in a dBASE table, which has room for ten letters: the folder's own names, the long ones cut short by this list.</summary>
internal static class FieldNames
{
    private static readonly ImmutableArray<(string Column, string Short)> Cut =
    [
        ("position_source", "pos_source"), ("gps_accuracy_m", "gps_acc_m"), ("bearing_true_deg", "bearing_t"), ("steps_between", "steps_betw"), ("direction_sense", "dir_sense"),
    ];

    /// <summary>Name in the table, capitals, at most ten letters of plain English.</summary>
    internal static string Short(string column)
    {
        foreach (var (name, shorter) in Cut) if (name == column) return shorter.ToUpperInvariant();
        var plain = string.Concat(column.Select(c => char.IsAsciiLetterOrDigit(c) ? char.ToUpperInvariant(c) : '_'));
        return plain.Length > 10 ? plain[..10] : plain;
    }

    /// <summary>The folder's name of a column of the table.</summary>
    internal static string Long(string field)
    {
        foreach (var (name, shorter) in Cut) if (string.Equals(shorter, field, StringComparison.OrdinalIgnoreCase)) return name;
        return field.ToLowerInvariant();
    }
}
