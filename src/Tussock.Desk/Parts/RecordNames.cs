using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Desk.Parts;

/// <summary>How people call a record: by its natural key.</summary>
public static class RecordNames
{
    /// <summary>The values of the key that are filled in, with a comma between.</summary>
    public static string Of(RecordState record) => RecordKind.Named(record.Kind) is { } kind ? string.Join(", ", kind.Key.Select(c => record.Field(c)?.Value ?? "").Where(t => t.Length > 0)) : record.Kind;
}
