namespace Tussock.Edges.Tests;

/// <summary>The way to published and reference values under <c>tests/checks</c>.</summary>
public static class Checks
{
    private static readonly Lazy<string> LazyTests = new(() =>
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Tussock.slnx"))) folder = folder.Parent;
        return Path.Combine((folder ?? throw new InvalidOperationException("The tests must run inside the checkout")).FullName, "tests");
    });

    internal static string Tests => LazyTests.Value;

    /// <summary>Path of one source's folder.</summary>
    public static string Folder(string source) => Path.Combine(Tests, "checks", source);

    /// <summary>Text of one file of a source.</summary>
    public static string Read(string source, string file) => File.ReadAllText(Path.Combine(Folder(source), file));
}

/// <summary>The way to kept bad input under <c>tests/corpus</c>.</summary>
public static class Corpus
{
    /// <summary>Path of a folder, for example <c>broken/001-utf8-mark</c>.</summary>
    public static string Folder(string name) => Path.Combine(Checks.Tests, "corpus", name);

    /// <summary>Names of the folders inside a folder, in order.</summary>
    public static IEnumerable<string> Names(string folder) => Directory.GetDirectories(Folder(folder)).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal);
}

/// <summary>A folder that is gone when the test is over.</summary>
public sealed class ScratchFolder : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("tussock-");

    public string Folder => folder.FullName;

    public string At(string name) => Path.Combine(Folder, name);

    /// <summary>Copies a folder's files into a new folder here.</summary>
    public string Copy(string from, string name)
    {
        var to = At(name);
        Directory.CreateDirectory(to);
        foreach (var file in Directory.GetFiles(from)) File.Copy(file, Path.Combine(to, Path.GetFileName(file)));
        return to;
    }

    public void Dispose() => folder.Delete(recursive: true);
}
