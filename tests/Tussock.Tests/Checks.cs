namespace Tussock.Tests;

/// <summary>The way to published and reference values under <c>tests/checks</c>.</summary>
public static class Checks
{
    private static readonly Lazy<string> Root = new(() =>
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Tussock.slnx"))) folder = folder.Parent;
        return Path.Combine((folder ?? throw new InvalidOperationException("The tests must run inside the checkout")).FullName, "tests", "checks");
    });

    /// <summary>Path of one source's folder.</summary>
    public static string Folder(string source) => Path.Combine(Root.Value, source);

    /// <summary>Text of one file of a source.</summary>
    public static string Read(string source, string file) => File.ReadAllText(Path.Combine(Folder(source), file));
}
