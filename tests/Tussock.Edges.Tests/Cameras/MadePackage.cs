using System.IO.Compression;

namespace Tussock.Edges.Tests.Cameras;

/// <summary>A package of <c>corpus/cameras</c>, copied so that a test can change it.</summary>
internal sealed class MadePackage : IDisposable
{
    private readonly ScratchFolder scratch = new();

    internal MadePackage(string name)
    {
        var from = Path.Combine(Corpus.Folder("cameras/" + name), "package");
        foreach (var file in Directory.GetFiles(from, "*", SearchOption.AllDirectories))
        {
            var to = Path.Combine(Folder, Path.GetRelativePath(from, file));
            Directory.CreateDirectory(Path.GetDirectoryName(to)!);
            File.Copy(file, to);
        }
    }

    internal static TimeZoneInfo Zone { get; } = TimeZoneInfo.FindSystemTimeZoneById("America/Chicago");

    internal string Folder => scratch.At("package");

    /// <summary>Path of something beside it.</summary>
    internal string Beside(string name) => scratch.At(name);

    /// <summary>Writes something else in a file; it must be there once at least.</summary>
    internal MadePackage Change(string file, string from, string to)
    {
        var path = Path.Combine(Folder, file);
        var text = File.ReadAllText(path);
        if (!text.Contains(from, StringComparison.Ordinal)) throw new ArgumentException(file + " has no " + from, nameof(from));
        File.WriteAllText(path, text.Replace(from, to, StringComparison.Ordinal));
        return this;
    }

    /// <summary>Puts a file into it.</summary>
    internal MadePackage Put(string file, byte[] bytes)
    {
        var path = Path.Combine(Folder, file);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllBytes(path, bytes);
        return this;
    }

    /// <summary>The same as a zip, all of it inside a folder of that zip.</summary>
    internal string Zip(string name = "package.zip")
    {
        var path = scratch.At(name);
        ZipFile.CreateFromDirectory(Folder, path, CompressionLevel.Fastest, includeBaseDirectory: true);
        return path;
    }

    public void Dispose() => scratch.Dispose();
}
