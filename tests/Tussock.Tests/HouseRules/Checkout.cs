using Xunit;

namespace Tussock.Tests.HouseRules;

/// <summary>The files of the checkout, without what a build makes.</summary>
public static class Checkout
{
    private static readonly string[] Made = ["artifacts", "bin", "obj", ".git", "node_modules", "TestResults", "out", ".vs", ".idea", ".vscode"];
    private static readonly string[] TextEndings = [".cs", ".razor", ".csproj", ".props", ".slnx", ".md", ".json", ".txt", ".csv", ".geojson", ".sh", ".py", ".yml", ".yaml", ".svg", ".html", ".css", ".js", ".editorconfig", ".gitignore", ".gitattributes", ""];

    /// <summary>Full path of the checkout.</summary>
    public static string Root { get; } = Path.GetFullPath(Path.Combine(Checks.Folder("."), "..", ".."));

    /// <summary>All files, as paths from the root with slashes.</summary>
    public static IReadOnlyList<string> Files { get; } = [.. Under(new DirectoryInfo(Root)).Select(f => Path.GetRelativePath(Root, f).Replace('\\', '/')).Order(StringComparer.Ordinal)];

    /// <summary>C# files under <c>src</c>.</summary>
    public static IEnumerable<string> Sources => Files.Where(f => f.StartsWith("src/", StringComparison.Ordinal) && f.EndsWith(".cs", StringComparison.Ordinal));

    /// <summary>Pages of the desk.</summary>
    public static IEnumerable<string> Pages => Files.Where(f => f.StartsWith("src/", StringComparison.Ordinal) && f.EndsWith(".razor", StringComparison.Ordinal));

    /// <summary>Files that hold text.</summary>
    public static IEnumerable<string> Texts => Files.Where(f => TextEndings.Contains(Path.GetExtension(f)));

    /// <summary>Text of one file.</summary>
    public static string Read(string file) => File.ReadAllText(Path.Combine(Root, file));

    /// <summary>Asserts that a rule is broken nowhere; otherwise says everywhere it is.</summary>
    public static void None<T>(IEnumerable<T> broken)
    {
        var all = broken.ToArray();
        Assert.True(all.Length == 0, string.Join('\n', all));
    }

    private static IEnumerable<string> Under(DirectoryInfo folder) =>
        folder.EnumerateFiles().Where(f => f.LinkTarget is null && f.Name != ".git").Select(f => f.FullName)
            .Concat(folder.EnumerateDirectories().Where(d => d.LinkTarget is null && !Made.Contains(d.Name)).SelectMany(Under));
}
