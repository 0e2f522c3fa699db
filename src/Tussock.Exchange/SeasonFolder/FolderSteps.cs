namespace Tussock.Exchange.SeasonFolder;

/// <summary>A step of writing a folder.</summary>
internal enum FolderStep
{
    /// <summary>A folder is made.</summary>
    Create,

    /// <summary>A file is opened for writing.</summary>
    Open,

    /// <summary>A file's content is flushed down to the disk.</summary>
    Flush,

    /// <summary>A file of the former folder is copied.</summary>
    Copy,

    /// <summary>A folder gets another name.</summary>
    Rename,

    /// <summary>The former folder is removed.</summary>
    Remove,
}

/// <summary>The doings on a disk that make a folder, one by one.</summary>
/// <param name="before">Told of each step before it is done; throws where a test wants the disk to fail.</param>
internal sealed class FolderSteps(Action<FolderStep, string>? before = null)
{
    internal void Create(string folder)
    {
        before?.Invoke(FolderStep.Create, folder);
        Directory.CreateDirectory(folder);
    }

    internal void Write(string file, Action<Stream> write)
    {
        before?.Invoke(FolderStep.Open, file);
        using var stream = new FileStream(file, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16);
        write(stream);
        before?.Invoke(FolderStep.Flush, file);
        stream.Flush(flushToDisk: true);
    }

    internal void Copy(FileSystemInfo from, string to)
    {
        before?.Invoke(FolderStep.Copy, from.FullName);
        if (from is DirectoryInfo) Directory.CreateSymbolicLink(to, from.LinkTarget!);
        else if (from.LinkTarget is { } target) File.CreateSymbolicLink(to, target);
        else File.Copy(from.FullName, to);
    }

    internal void Rename(string from, string to)
    {
        before?.Invoke(FolderStep.Rename, from);
        Directory.Move(from, to);
    }

    internal void Remove(string folder)
    {
        before?.Invoke(FolderStep.Remove, folder);
        Directory.Delete(folder, recursive: true);
    }
}
