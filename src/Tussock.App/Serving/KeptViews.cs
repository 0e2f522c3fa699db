using Tussock.Exchange.Photos;

namespace Tussock.App.Serving;

/// <summary>Smaller views of photos, each made when it is first asked for and kept beside the originals. May be shared between threads.</summary>
internal static class KeptViews
{
    private static readonly Lock Gate = new();

    /// <summary>The view, one at a time: reading a large picture takes memory. Null where the file is no picture that can be read.</summary>
    /// <param name="original">Path of the original.</param>
    /// <param name="name">Name of the folder of these views.</param>
    /// <param name="side">Pixels of the longer side at most.</param>
    internal static byte[]? Of(string original, string name, int side)
    {
        var folder = Path.Combine(Path.GetDirectoryName(original)!, name);
        var kept = Path.Combine(folder, Path.GetFileName(original) + ".jpg");
        lock (Gate)
        {
            if (File.Exists(kept)) return File.ReadAllBytes(kept);
            if (SmallPicture.Of(original, side) is not { } bytes) return null;
            Directory.CreateDirectory(folder);
            File.WriteAllBytes(kept + ".new", bytes);
            File.Move(kept + ".new", kept, overwrite: true);
            return bytes;
        }
    }
}
