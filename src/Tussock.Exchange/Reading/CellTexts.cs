using System.Text;
using System.Text.Unicode;

namespace Tussock.Exchange.Reading;

/// <summary>Makes texts of the cells of one column; equal short texts are one object, because names and findings come again and again.</summary>
internal sealed class CellTexts
{
    private const int LongestShared = 128;
    private const int MostShared = 1 << 14;
    private static readonly UTF8Encoding Strict = new(false, true);

    private readonly char[] chars = new char[LongestShared];
    private readonly HashSet<string> shared = new(StringComparer.Ordinal);
    private readonly HashSet<string>.AlternateLookup<ReadOnlySpan<char>> lookup;
    private string last = "";

    internal CellTexts() => lookup = shared.GetAlternateLookup<ReadOnlySpan<char>>();

    /// <summary>The text of the bytes; null when they are no UTF-8.</summary>
    internal string? Of(ReadOnlySpan<byte> bytes)
    {
        if (bytes.IsEmpty) return "";
        if (bytes.Length > LongestShared) return Utf8.IsValid(bytes) ? Strict.GetString(bytes) : null;
        if (Utf8.ToUtf16(bytes, chars, out _, out var count, replaceInvalidSequences: false) != System.Buffers.OperationStatus.Done) return null;
        var text = chars.AsSpan(0, count);
        if (text.SequenceEqual(last)) return last;
        if (lookup.TryGetValue(text, out var known)) return last = known;
        last = new string(text);
        if (shared.Count < MostShared) shared.Add(last);
        return last;
    }
}
