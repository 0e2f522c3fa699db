using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using Tussock.App.Serving.People;
using Tussock.Desk;
using Tussock.Store;

namespace Tussock.App.Serving.Desk;

/// <summary>Addresses that say which season they are of: <c>/season/KEY</c> before the page's own address.</summary>
/// <remarks>
/// Pages are written as if there were one season. What leads from a page to another gets the season of the page here, in one place, so that no page can
/// forget it and no form can write into a season that it did not show.
/// </remarks>
internal static class SeasonAddress
{
    private const string Begin = "/season/";

    /// <summary>What an address on a page stands behind.</summary>
    private static readonly ImmutableArray<string> Ways = [" href=\"/", " action=\"/", " src=\"/", " formaction=\"/", " data-text=\"/"];

    /// <summary>Addresses that are the same for every season: the desk's own files, the phone app, and those that name their season already.</summary>
    private static readonly ImmutableArray<string> OfNone = ["/desk/", "/field/", Begin];

    /// <summary>The season's key in an address, and the rest; no key where the address names no season.</summary>
    internal static (string? Key, string Path) Split(string path)
    {
        if (!path.StartsWith(Begin, StringComparison.Ordinal)) return (null, path);
        var end = path.IndexOf('/', Begin.Length);
        var key = end < 0 ? path[Begin.Length..] : path[Begin.Length..end];
        return key.Length == 0 ? (null, path) : (key, end < 0 ? "/" : path[end..]);
    }

    /// <summary>Whether a form of this address writes into no season that was shown, so that it need not say which.</summary>
    internal static bool IsOfNone(string path) => path is SpokenLanguage.Path or SpokenUnits.Path or "/backup" || PeopleSite.Has(path) || path.StartsWith("/old/", StringComparison.Ordinal);

    /// <summary>Seasons with the key of each in addresses and what it is called, for those who may see all of it.</summary>
    internal static ImmutableArray<(SeasonEntry Season, string Key, string Label)> Named(ImmutableArray<SeasonEntry> seasons)
    {
        // Two seasons may have one name, and a name may hold what no address can: the id is always there.
        var taken = new HashSet<string>(StringComparer.Ordinal);
        return [.. seasons.Select(s => (s, IsPlain(s.Name) && taken.Add(s.Name) ? s.Name : s.Id.ToString(), s.Name))];
    }

    /// <summary>The same for a landowner: a season's name may name other land, so the year stands for it, in addresses its place in the order of years.</summary>
    internal static ImmutableArray<(SeasonEntry Season, string Key, string Label)> Numbered(ImmutableArray<SeasonEntry> seasons) =>
        [.. seasons.Select((s, i) => (s, (seasons.Length - i).ToString(CultureInfo.InvariantCulture), s.Year.Length == 4 && s.Year.All(char.IsAsciiDigit) ? s.Year : (seasons.Length - i).ToString(CultureInfo.InvariantCulture)))];

    /// <summary>What addresses of a season begin with.</summary>
    internal static string Prefix(string key) => Begin + Uri.EscapeDataString(key);

    /// <summary>A page with its season in every address that leads from it.</summary>
    internal static string Prefixed(string html, string prefix)
    {
        if (prefix.Length == 0) return html;
        var written = new StringBuilder(html.Length + (html.Length / 8));
        var from = 0;
        for (var at = html.IndexOf("=\"/", StringComparison.Ordinal); at >= 0; at = html.IndexOf("=\"/", at + 1, StringComparison.Ordinal))
        {
            var slash = at + 2;
            if (!Ways.Any(w => slash + 1 >= w.Length && string.CompareOrdinal(html, slash + 1 - w.Length, w, 0, w.Length) == 0) || OfNone.Any(o => string.CompareOrdinal(html, slash, o, 0, o.Length) == 0)) continue;
            written.Append(html, from, slash - from).Append(prefix);
            from = slash;
        }

        return written.Append(html, from, html.Length - from).ToString();
    }

    private static bool IsPlain(string name) => name.Length is > 0 and <= 80 && name[0] is not '.' && name.All(c => char.IsLetterOrDigit(c) || c is ' ' or '-' or '_' or '.') && !Guid.TryParse(name, out _);
}
