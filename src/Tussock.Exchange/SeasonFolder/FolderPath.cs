namespace Tussock.Exchange.SeasonFolder;

/// <summary>Whether a path that a description gives stays inside the season folder.</summary>
internal static class FolderPath
{
    private const int MostLinks = 16;

    /// <summary>The path as the season folder writes it: without leading "./".</summary>
    internal static string Plain(string path) => path.StartsWith("./", StringComparison.Ordinal) ? path[2..] : path;

    /// <summary>Rule that refuses the path by its text alone; null when it may be looked at.</summary>
    internal static string? Refusal(string path) => path switch
    {
        "" => "path_empty",
        _ when path.AsSpan().IndexOfAnyInRange('\0', '\u001F') >= 0 || path.Length > 1000 => "path_unusable",
        _ when path.Contains("://", StringComparison.Ordinal) => "path_url",
        _ when path.Contains('\\', StringComparison.Ordinal) => "path_backslash",
        _ when path[0] is '/' or '~' || (path.Length > 1 && path[1] == ':') => "path_absolute",
        _ when path.Split('/').Contains("..") => "path_parent",
        _ => null,
    };

    /// <summary>Whether the file, all its links followed, lies inside the folder. A link that leads nowhere or round in a circle does not.</summary>
    /// <param name="folder">Full path of the folder.</param>
    /// <param name="path">Path inside it, already free of "..".</param>
    internal static bool IsInside(string folder, string path) => IsInside(folder, path, MostLinks);

    private static bool IsInside(string folder, string path, int linksLeft)
    {
        var at = folder;
        var parts = path.Split('/', StringSplitOptions.RemoveEmptyEntries);
        for (var i = 0; i < parts.Length; i++)
        {
            at = Path.Combine(at, parts[i]);
            if (new FileInfo(at).LinkTarget is not { } target) continue;
            var whole = Path.GetFullPath(target, Path.GetDirectoryName(at)!);
            var relative = Path.GetRelativePath(folder, whole).Replace('\\', '/');
            if (linksLeft == 0 || Path.IsPathRooted(relative) || relative.Split('/')[0] == "..") return false;
            return IsInside(folder, string.Join('/', [relative, .. parts[(i + 1)..]]), linksLeft - 1);
        }

        return true;
    }
}
