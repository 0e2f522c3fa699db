using System.Text;
using Tussock.Words;

namespace Tussock.Reports;

/// <summary>File names of properties and pastures: their letters and digits, joined by hyphens; names that come out alike are numbered.</summary>
internal static class FileNames
{
    /// <summary>A free name for each, in their order.</summary>
    internal static IEnumerable<(string Of, string Name)> Of(IEnumerable<string> names)
    {
        var taken = new HashSet<string>(StringComparer.Ordinal);
        foreach (var property in names)
        {
            var name = Plain(property);
            var free = name;
            for (var i = 2; !taken.Add(free); i++) free = name + "-" + Numbers.Whole(i);
            yield return (property, free);
        }
    }

    private static string Plain(string property)
    {
        var name = new StringBuilder();
        foreach (var c in property.Normalize(NormalizationForm.FormD).ToLowerInvariant())
        {
            if (char.IsAsciiLetterOrDigit(c)) name.Append(c);
            else if (name.Length > 0 && name[^1] != '-' && char.GetUnicodeCategory(c) != System.Globalization.UnicodeCategory.NonSpacingMark) name.Append('-');
            if (name.Length >= 60) break;
        }

        var plain = name.ToString().Trim('-');
        return plain.Length == 0 ? "property" : plain;
    }
}
