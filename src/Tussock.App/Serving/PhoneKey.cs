using System.Buffers.Text;
using System.Security.Cryptography;

namespace Tussock.App.Serving;

/// <summary>The key of a phone: its id and 32 random bytes, as one text. The data file keeps only a hash.</summary>
internal static class PhoneKey
{
    private const int IdBytes = 16;
    private const int SecretBytes = 32;

    internal static string Make(Guid device) => Base64Url.EncodeToString([.. device.ToByteArray(bigEndian: true), .. RandomNumberGenerator.GetBytes(SecretBytes)]);

    internal static byte[] Hash(string key) => SHA256.HashData(System.Text.Encoding.ASCII.GetBytes(key));

    /// <summary>The device that a key says it is; null where it is no key.</summary>
    internal static Guid? Device(string key)
    {
        Span<byte> bytes = stackalloc byte[IdBytes + SecretBytes];
        return key.Length <= 100 && Base64Url.IsValid(key, out var length) && length == bytes.Length && Base64Url.TryDecodeFromChars(key, bytes, out _) ? new Guid(bytes[..IdBytes], bigEndian: true) : null;
    }
}
