using System.Collections.Concurrent;
using System.Globalization;
using System.Security.Cryptography;

namespace Tussock.Store.Media;

/// <summary>How taking in a piece of a photo ended.</summary>
public enum MediaEnd
{
    /// <summary>The piece is on disk.</summary>
    Taken,

    /// <summary>The piece begins elsewhere than what is there ends.</summary>
    OtherOffset,

    /// <summary>All bytes came, and they are not what the hash names; they were thrown away.</summary>
    WrongHash,

    /// <summary>There is no room left for photos.</summary>
    NoRoom,
}

/// <summary>Photos and voice notes by hash, in a folder beside the data. A piece goes to a part file; a whole one gets its name. May be shared between threads.</summary>
public sealed class MediaStore
{
    /// <summary>Bytes that photos may take: 20 GiB.</summary>
    public const long UsualQuota = 20L << 30;

    private const int Stride = 1 << 16;
    private readonly Home home;
    private readonly long quota;
    private readonly ConcurrentDictionary<string, SemaphoreSlim> gates = new(StringComparer.Ordinal);

    /// <summary>Makes a store; nothing is looked at yet.</summary>
    /// <param name="data">Path of the data file, or how a server is reached: its photos lie in the folder that is set for such things.</param>
    /// <param name="quota">Bytes that all of it may take.</param>
    /// <exception cref="DataFileException">The data can't be named so.</exception>
    public MediaStore(string data, long quota = UsualQuota)
        : this(Home.Of(data), quota)
    {
    }

    internal MediaStore(Home home, long quota = UsualQuota) => (this.home, this.quota) = (home, quota);

    /// <summary>The folder of the photos of a data file.</summary>
    internal static string FolderOf(string dataFile) => dataFile + ".media";

    /// <summary>Whether a text is a SHA-256 in small hexadecimal letters.</summary>
    public static bool IsHash(string text) => text?.Length == 64 && text.All(char.IsAsciiHexDigitLower);

    /// <summary>Bytes that are there, and how many there will be; null when there is nothing. All of them means that the file is whole and is what its hash says.</summary>
    public async Task<(long Offset, long Length)?> FindAsync(string hash, CancellationToken cancellation)
    {
        var gate = gates.GetOrAdd(hash, _ => new SemaphoreSlim(1));
        await gate.WaitAsync(cancellation);
        try
        {
            // The desk may have been killed between the last byte and the name.
            if (Part(hash) is { } full && new FileInfo(full).Length == LengthOf(full)) await FinishAsync(full, hash, cancellation);
            if (Has(hash)) return (new FileInfo(Whole(hash)).Length, new FileInfo(Whole(hash)).Length);
            return Part(hash) is { } part ? (new FileInfo(part).Length, LengthOf(part)) : null;
        }
        finally
        {
            gate.Release();
        }
    }

    /// <summary>Takes a piece.</summary>
    /// <returns>How it ended, and how many bytes are there now.</returns>
    public async Task<(MediaEnd End, long Offset)> TakeAsync(string hash, long offset, long length, Stream piece, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(piece);
        var gate = gates.GetOrAdd(hash, _ => new SemaphoreSlim(1));
        await gate.WaitAsync(cancellation);
        try
        {
            if (Has(hash)) return (MediaEnd.Taken, length);
            Directory.CreateDirectory(Folder);
            var part = Path.Combine(Folder, string.Create(CultureInfo.InvariantCulture, $"{hash}-{length}.part"));
            if (Part(hash) is { } other && other != part) File.Delete(other);
            var there = File.Exists(part) ? new FileInfo(part).Length : 0;
            if (offset != there) return (MediaEnd.OtherOffset, there);
            if (Used() + length > quota) return (MediaEnd.NoRoom, there);
            there = await AppendAsync(part, there, length, piece, cancellation);
            return there < length ? (MediaEnd.Taken, there) : await FinishAsync(part, hash, cancellation);
        }
        finally
        {
            gate.Release();
        }
    }

    /// <summary>Keeps whole bytes under the hash that they have; the same bytes once.</summary>
    /// <returns>Their hash; null when there is no room left.</returns>
    public string? Keep(ReadOnlySpan<byte> bytes)
    {
        var hash = Convert.ToHexStringLower(SHA256.HashData(bytes));
        if (Has(hash)) return hash;
        Directory.CreateDirectory(Folder);
        if (Used() + bytes.Length > quota) return null;
        var made = Path.Combine(Folder, hash + ".new");
        using (var stream = new FileStream(made, FileMode.Create, FileAccess.Write, FileShare.None))
        {
            stream.Write(bytes);
            stream.Flush(flushToDisk: true);
        }

        File.Move(made, Whole(hash), overwrite: true);
        return hash;
    }

    /// <summary>All whole photos, by hash.</summary>
    public IReadOnlyList<(string Hash, string Path)> All() => HasFolder ? [.. Directory.EnumerateFiles(Folder).Select(f => (Path.GetFileName(f), f)).Where(f => IsHash(f.Item1)).OrderBy(f => f.Item1, StringComparer.Ordinal)] : [];

    /// <summary>Path of a whole photo, to be read only; null when it is not here.</summary>
    public string? PathOf(string hash) => IsHash(hash) && Has(hash) ? Whole(hash) : null;

    /// <summary>Copies a photo to another place, whose folder is made when needed; false when it is not here.</summary>
    public bool CopyTo(string hash, string target)
    {
        if (!IsHash(hash) || !Has(hash)) return false;
        Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(target))!);
        File.Copy(Whole(hash), target, overwrite: true);
        return true;
    }

    private async Task<(MediaEnd End, long Offset)> FinishAsync(string part, string hash, CancellationToken cancellation)
    {
        string found;
        await using (var stream = File.OpenRead(part)) found = Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, cancellation));
        if (found != hash)
        {
            File.Delete(part);
            return (MediaEnd.WrongHash, 0);
        }

        var length = new FileInfo(part).Length;
        File.Move(part, Whole(hash), overwrite: true);
        return (MediaEnd.Taken, length);
    }

    /// <summary>Writes what comes, up to the length promised; what came before a connection broke stays for the next piece.</summary>
    private static async Task<long> AppendAsync(string part, long there, long length, Stream piece, CancellationToken cancellation)
    {
        await using var stream = new FileStream(part, FileMode.Append, FileAccess.Write, FileShare.None);
        var buffer = new byte[Stride];
        while (there < length)
        {
            var count = await piece.ReadAsync(buffer.AsMemory(0, (int)Math.Min(buffer.Length, length - there)), cancellation);
            if (count == 0) break;
            await stream.WriteAsync(buffer.AsMemory(0, count), cancellation);
            there += count;
        }

        stream.Flush(flushToDisk: true);
        return there;
    }

    /// <summary>Where photos are kept.</summary>
    /// <exception cref="DataFileException">There is no place for them.</exception>
    private string Folder => FolderOf(home.At(""));

    /// <summary>Whether there is a folder of photos to look into.</summary>
    private bool HasFolder => home.Beside is { } beside && Directory.Exists(FolderOf(beside));

    private bool Has(string hash) => HasFolder && File.Exists(Whole(hash));

    private string Whole(string hash) => Path.Combine(Folder, hash);

    private string? Part(string hash) => HasFolder ? Directory.EnumerateFiles(Folder, hash + "-*.part").FirstOrDefault() : null;

    private static long LengthOf(string part) => long.Parse(Path.GetFileNameWithoutExtension(part).Split('-')[1], CultureInfo.InvariantCulture);

    private long Used() => new DirectoryInfo(Folder).EnumerateFiles().Sum(f => f.Length);
}
