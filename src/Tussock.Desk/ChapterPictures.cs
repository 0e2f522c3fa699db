namespace Tussock.Desk;

/// <summary>The pictures of a chapter, each by itself: as they stand on the page.</summary>
public static class ChapterPictures
{
    private const string Begin = "<svg ";
    private const string End = "</svg>";

    /// <summary>How many pictures a piece of HTML holds.</summary>
    public static int Count(string html)
    {
        var count = 0;
        for (var at = html.IndexOf(Begin, StringComparison.Ordinal); at >= 0; at = html.IndexOf(Begin, at + 1, StringComparison.Ordinal)) count++;
        return count;
    }

    /// <summary>Picture n, from 1, as a file of its own; null when there are fewer.</summary>
    public static string? Of(string html, int n)
    {
        var at = -1;
        for (var i = 0; i < n; i++)
        {
            at = html.IndexOf(Begin, at + 1, StringComparison.Ordinal);
            if (at < 0) return null;
        }

        var end = n < 1 ? -1 : html.IndexOf(End, at, StringComparison.Ordinal);
        return end < 0 ? null : "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + Begin + "font-family=\"system-ui, sans-serif\" " + html[(at + Begin.Length)..(end + End.Length)] + "\n";
    }
}
