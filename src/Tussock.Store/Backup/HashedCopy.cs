using System.Security.Cryptography;

namespace Tussock.Store.Backup;

/// <summary>Copies bytes and says what they were.</summary>
internal static class HashedCopy
{
    private const int Stride = 1 << 17;

    /// <summary>Copies until the source ends, or has given more than it may: a zip can hold more than any disk.</summary>
    internal static BackedUpFile Copy(Stream source, Stream target, long most, CancellationToken cancellation)
    {
        using var sha = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var buffer = new byte[Stride];
        long length = 0;
        while (length <= most && source.Read(buffer) is var count and > 0)
        {
            cancellation.ThrowIfCancellationRequested();
            sha.AppendData(buffer, 0, count);
            target.Write(buffer, 0, count);
            length += count;
        }

        return new BackedUpFile(Convert.ToHexStringLower(sha.GetHashAndReset()), length);
    }
}
