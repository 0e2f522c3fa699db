namespace Tussock.Edges.Tests.Scenes;

/// <summary>A scene kept under <c>tests/corpus/scenes</c>, copied so that a story can change it.</summary>
internal sealed class SceneFolder : IDisposable
{
    private readonly ScratchFolder scratch = new();

    internal SceneFolder(string name) => Folder = scratch.Copy(Corpus.Folder("scenes/" + name), name);

    internal string Folder { get; }

    /// <summary>A data file beside the copy.</summary>
    internal string DataFile => scratch.At("season.db");

    /// <summary>Writes something else in a cell, a row or the description; it must be there once at least.</summary>
    internal SceneFolder Change(string file, string from, string to)
    {
        var path = Path.Combine(Folder, file);
        var text = File.ReadAllText(path);
        if (!text.Contains(from, StringComparison.Ordinal)) throw new ArgumentException(file + " has no " + from, nameof(from));
        File.WriteAllText(path, text.Replace(from, to, StringComparison.Ordinal));
        return this;
    }

    /// <summary>Writes more rows at the end of a file.</summary>
    internal SceneFolder Add(string file, params string[] rows)
    {
        File.AppendAllText(Path.Combine(Folder, file), string.Concat(rows.Select(r => r + "\n")));
        return this;
    }

    public void Dispose() => scratch.Dispose();
}
