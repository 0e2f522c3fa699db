namespace Tussock.Store.Backup;

/// <summary>Where reports that were made and kept lie beside the data: a folder each, named by the moment it was made.</summary>
public static class KeptReports
{
    private const int LongestName = 200;

    /// <summary>Folder of the reports of some data.</summary>
    /// <param name="beside">What the names of things beside the data begin with.</param>
    public static string FolderOf(string beside) => beside + ".reports";

    /// <summary>Files of whole reports as <c>FOLDER/FILE</c>, in order; a folder that is still being made is passed over.</summary>
    internal static IEnumerable<string> Names(string folder) => !Directory.Exists(folder) ? [] : Directory.GetDirectories(folder)
        .SelectMany(d => Directory.GetFiles(d).Select(f => Path.GetFileName(d) + "/" + Path.GetFileName(f))).Where(IsName).Order(StringComparer.Ordinal);

    /// <summary>Whether a text names a file of a report and nothing else: a backup may come from anywhere.</summary>
    internal static bool IsName(string name) => name.Length <= LongestName && name.Split('/') is [var folder, var file] && IsPart(folder) && IsPart(file);

    private static bool IsPart(string part) => part.Length > 0 && char.IsLetterOrDigit(part[0]) && part[^1] != '.' && part.All(c => char.IsLetterOrDigit(c) || c is '.' or '-' or '_');
}
