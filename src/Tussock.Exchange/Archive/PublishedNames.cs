using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Globalization;
using Tussock.Records;

namespace Tussock.Exchange.Archive;

/// <summary>What stands in an archive in place of names: numbers that are the same in all its seasons, and words without names in them.</summary>
/// <remarks>
/// Numbers follow the order of the names and are written with as many digits, so that whatever is put in order by name keeps its order, and results their last digit.
/// A word goes out if it is short, has fewer than three digits in all unless it is a date (a gate code, a telephone, a place), none of the names of land, lines, people or the season, and no longer word of such a name.
/// </remarks>
internal sealed class PublishedNames
{
    private const int LongestText = 40;
    private const int MostWords = 5;
    private const int ShortestPart = 4;

    /// <summary>So many digits in all may be a gate code, a telephone or a place, however they are parted.</summary>
    private const int LongNumber = 3;

    /// <summary>Stands for nobody in <c>found_by</c>: seen on a picture.</summary>
    private const string ByCamera = "camera";

    private readonly bool isExact;
    private readonly FrozenDictionary<string, string> properties, lines, people, cameras, covers;
    private readonly FrozenDictionary<(string, string), string> pastures;
    private readonly FrozenSet<string> names, parts;
    private readonly int longest;

    internal PublishedNames(IReadOnlyCollection<Season> seasons, bool isExact)
    {
        this.isExact = isExact;
        var tables = seasons.SelectMany(s => s.Tables.Tables).ToArray();
        properties = Numbered("property ", tables.SelectMany(t => Cells(t, Handing.Property)));
        pastures = tables.SelectMany(Land).Distinct().GroupBy(p => p.Property, StringComparer.Ordinal)
            .SelectMany(p => Numbered("pasture ", p.Select(x => x.Pasture)).Select(n => KeyValuePair.Create((p.Key, n.Key), n.Value))).ToFrozenDictionary();
        // A transect is a bare number, as most crews call theirs; the lasting name of a flag line is another, unless a transect has it.
        var transects = Numbered("", tables.SelectMany(t => Cells(t, Handing.Line, "transect")));
        lines = transects.Concat(Numbered("line ", tables.SelectMany(t => Cells(t, Handing.Line)).Where(l => !transects.ContainsKey(l)))).ToFrozenDictionary(StringComparer.Ordinal);
        people = Numbered("crew ", tables.SelectMany(t => Cells(t, Handing.Person)).Where(p => p != ByCamera));
        cameras = Numbered("camera ", tables.SelectMany(t => Cells(t, Handing.Camera)));
        var kept = isExact ? [] : properties.Keys.Concat(pastures.Keys.Select(p => p.Item2)).Concat(lines.Keys).Concat(seasons.SelectMany(s => new[] { s.Settings.Name, s.Settings.Title }));
        var persons = tables.SelectMany(t => t.Columns.Where(ColumnHandings.IsOfPeople).SelectMany(c => t.Rows.Select(r => new Source(t, r).Text(c)))).Where(p => p != ByCamera);
        names = kept.Concat(persons).Select(Plain).Where(n => n.Length > 1 && n.Any(char.IsLetter)).ToFrozenSet(StringComparer.Ordinal);
        parts = names.SelectMany(n => n.Split(' ')).Where(w => w.Length >= ShortestPart && w.All(char.IsLetter)).ToFrozenSet(StringComparer.Ordinal);
        longest = names.Count == 0 ? 0 : names.Max(n => n.Count(c => c == ' ')) + 1;
        var classes = seasons.SelectMany(s => s.Settings.CoverClasses.Select(c => c.Name).Concat(s.Settings.ClassesThatCount)).Concat(tables.SelectMany(t => Cells(t, Handing.Cover)));
        covers = Numbered("class ", classes.Where(c => !IsHarmless(c)));
    }

    /// <summary>The text of a cell as it goes out; empty where it stays at home.</summary>
    /// <param name="how">What becomes of its column.</param>
    /// <param name="cell">The cell, trimmed.</param>
    /// <param name="property">The property in the same row.</param>
    internal string Of(Handing how, string cell, string property) => cell.Length == 0 ? "" : how switch
    {
        Handing.Kept => cell,
        Handing.WhereExact => isExact ? cell : "",
        Handing.Property => isExact ? cell : properties[cell],
        Handing.Pasture => isExact ? cell : Pasture(property, cell),
        Handing.Line => isExact ? cell : lines[cell],
        Handing.Person => people.GetValueOrDefault(cell, cell),
        Handing.Camera => cameras[cell],
        Handing.Cover => covers.GetValueOrDefault(cell, cell),
        Handing.Word => IsWord(cell) ? cell : "",
        Handing.WordOrOther => IsWord(cell) ? cell : "other",
        Handing.Moment => Cell.DateOf(cell) is not null && (cell.Length == 10 || Cell.Time(cell) is not null) ? cell : "",
        Handing.YesNo => Cell.YesNo(cell) is not null ? cell : "",
        Handing.Culprit => SeenPeople.Class(cell),
        Handing.Whole => Cell.Whole(cell) is not null ? cell : "",
        _ => "",
    };

    /// <summary>A pasture's number; where a row names no property, that of the first pasture of that name.</summary>
    private string Pasture(string property, string name) => pastures.GetValueOrDefault((property, name)) ?? pastures.Where(p => p.Key.Item2 == name).OrderBy(p => p.Key.Item1, StringComparer.Ordinal).Select(p => p.Value).FirstOrDefault("");

    /// <summary>Number of a line among those of all seasons.</summary>
    internal string LineNumber(string name) => lines[name];

    /// <summary>Whether a text is a word or a few that say nothing about land or people, as far as a program can tell.</summary>
    internal bool IsWord(string text) => OwnWords.Has(text) || (IsHarmless(text) && Plain(text).Split(' ') is { Length: <= MostWords } words && !words.Any(parts.Contains));

    /// <summary>Whether a text is short, and has no name and, but for a date, fewer than three digits in it.</summary>
    internal bool IsHarmless(string text)
    {
        if (text.Length > LongestText || text.Any(c => char.IsControl(c) || c == '@') || (text.Count(char.IsDigit) >= LongNumber && Cell.Date(text) is null)) return false;
        var words = Plain(text).Split(' ', StringSplitOptions.RemoveEmptyEntries);
        for (var from = 0; from < words.Length; from++)
        {
            for (var count = 1; count <= longest && from + count <= words.Length; count++) if (names.Contains(string.Join(' ', words.AsSpan(from, count)!))) return false;
        }

        return true;
    }

    /// <summary>Letters and digits alone, small, one blank between words: so "North-Draw" is found in "the north draw".</summary>
    private static string Plain(string text) => string.Join(' ', new string([.. text.Select(c => char.IsLetterOrDigit(c) ? char.ToLowerInvariant(c) : ' ')]).Split(' ', StringSplitOptions.RemoveEmptyEntries));

    private static FrozenDictionary<string, string> Numbered(string word, IEnumerable<string> found)
    {
        var sorted = found.Where(n => n.Length > 0).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray();
        var digits = "D" + sorted.Length.ToString(CultureInfo.InvariantCulture).Length.ToString(CultureInfo.InvariantCulture);
        return sorted.Select((n, i) => KeyValuePair.Create(n, word + (i + 1).ToString(digits, CultureInfo.InvariantCulture))).ToFrozenDictionary(StringComparer.Ordinal);
    }

    private static IEnumerable<string> Cells(RecordTable table, Handing how, string? only = null) =>
        table.Columns.Where(c => (only is null || c == only) && ColumnHandings.Of(table.Kind, c) == how).SelectMany(c => table.Rows.Select(r => new Source(table, r).Text(c)));

    private static IEnumerable<(string Property, string Pasture)> Land(RecordTable table) => table.IndexOf("pasture") < 0 ? [] : table.Rows.Select(r => new Source(table, r)).Select(s => (Property: s.Text("property"), Pasture: s.Text("pasture"))).Where(p => p.Property.Length > 0);
}
