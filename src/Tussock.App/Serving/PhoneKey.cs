using System.Buffers.Text;
using System.Security.Cryptography;

namespace Tussock.App.Serving;

/// <summary>The key of a phone: its id, the season that it was paired to, and 32 random bytes, as one text. The data file keeps only a hash of all of it, so that none of it can be exchanged.</summary>
internal static class PhoneKey
{
    private const int IdBytes = 16;
    private const int SecretBytes = 32;

    internal static string Make(Guid device, Guid season) => Base64Url.EncodeToString([.. device.ToByteArray(bigEndian: true), .. season.ToByteArray(bigEndian: true), .. RandomNumberGenerator.GetBytes(SecretBytes)]);

    internal static byte[] Hash(string key) => SHA256.HashData(System.Text.Encoding.ASCII.GetBytes(key));

    /// <summary>The device that a key says it is, and the season; no season in keys that were made before there were several; null where it is no key.</summary>
    internal static (Guid Device, Guid? Season)? Read(string key)
    {
        Span<byte> bytes = stackalloc byte[IdBytes + IdBytes + SecretBytes];
        if (key.Length > 100 || !Base64Url.IsValid(key, out var length) || length > bytes.Length || !Base64Url.TryDecodeFromChars(key, bytes, out _)) return null;
        var device = new Guid(bytes[..IdBytes], bigEndian: true);
        if (length == bytes.Length) return (device, new Guid(bytes.Slice(IdBytes, IdBytes), bigEndian: true));
        return length == IdBytes + SecretBytes ? (device, null) : null;
    }
}
