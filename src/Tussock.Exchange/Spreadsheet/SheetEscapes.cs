using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace Tussock.Exchange.Spreadsheet;

/// <summary>Signs that XML can't hold, written as _x000D_ (ECMA-376 part 1, 22.9.2.19, ST_Xstring).</summary>
internal static partial class SheetEscapes
{
    /// <summary>A text as a workbook holds it.</summary>
    internal static string Written(string text)
    {
        if (!text.Contains("_x", StringComparison.Ordinal) && !HasForbidden(text)) return text;
        var written = new StringBuilder(text.Length + 16);
        for (var i = 0; i < text.Length; i++)
        {
            var isPair = char.IsHighSurrogate(text[i]) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]);
            if (isPair) written.Append(text[i++]).Append(text[i]);
            else if (IsForbidden(text[i]) || (text[i] == '_' && Escape().IsMatch(text, i))) written.Append("_x").Append(((int)text[i]).ToString("X4", CultureInfo.InvariantCulture)).Append('_');
            else written.Append(text[i]);
        }

        return written.ToString();
    }

    /// <summary>The text that a workbook means.</summary>
    internal static string Read(string text) => text.Contains("_x", StringComparison.Ordinal)
        ? AnyEscape().Replace(text, m => ((char)ushort.Parse(m.ValueSpan[2..6], NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture)).ToString())
        : text;

    private static bool HasForbidden(string text)
    {
        foreach (var c in text) if (IsForbidden(c) || char.IsSurrogate(c)) return true;
        return false;
    }

    private static bool IsForbidden(char c) => c is < ' ' and not ('\t' or '\n') or '\uFFFE' or '\uFFFF' || char.IsSurrogate(c);

    // Without the last underscore: the next sign may itself be escaped, and would lend it its own.
    [GeneratedRegex(@"\G_x[0-9A-Fa-f]{4}", RegexOptions.None, 1000)]
    private static partial Regex Escape();

    [GeneratedRegex("_x[0-9A-Fa-f]{4}_", RegexOptions.None, 1000)]
    private static partial Regex AnyEscape();
}
