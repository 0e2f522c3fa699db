using System.Buffers.Binary;
using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Tussock.Edges.Tests.Serving;

/// <summary>A device in software that makes and uses one passkey, byte by byte as the standard says (Web Authentication, level 3, sections 6.1 and 6.5; keys as in RFC 9052; values written from memory of both).</summary>
internal sealed class SoftPasskey : IDisposable
{
    private const byte Present = 1, Verified = 4, HasKey = 0x40;
    private readonly ECDsa key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
    private readonly byte[] id = RandomNumberGenerator.GetBytes(32);
    private string owner = "";
    private uint used;

    internal string Id => Base64Url.EncodeToString(id);

    /// <summary>Whether its owner proved to be there with a finger or a number.</summary>
    internal bool IsVerified { get; init; } = true;

    public void Dispose() => key.Dispose();

    /// <summary>What it answers when it is asked to make a passkey.</summary>
    internal string Make(JsonElement options, string origin)
    {
        owner = options.GetProperty("user").GetProperty("id").GetString()!;
        var point = key.ExportParameters(false).Q;
        byte[] cose = [0xA5, 0x01, 0x02, 0x03, 0x26, 0x20, 0x01, 0x21, 0x58, 0x20, .. point.X!, 0x22, 0x58, 0x20, .. point.Y!];
        byte[] about = [.. About(options.GetProperty("rp").GetProperty("id").GetString()!, HasKey), .. new byte[16], 0, (byte)id.Length, .. id, .. cose];
        byte[] attestation = [0xA3, .. Text("fmt"), .. Text("none"), .. Text("attStmt"), 0xA0, .. Text("authData"), 0x58, (byte)about.Length, .. about];
        return Credential(new() { ["clientDataJSON"] = Said("webauthn.create", options, origin), ["attestationObject"] = Base64Url.EncodeToString(attestation), ["transports"] = new[] { "internal" } });
    }

    /// <summary>What it answers when it is asked to sign somebody in.</summary>
    internal string Sign(JsonElement options, string origin, bool isTampered = false)
    {
        var about = About(options.GetProperty("rpId").GetString()!, 0);
        var said = Said("webauthn.get", options, origin);
        var signature = key.SignData([.. about, .. SHA256.HashData(Base64Url.DecodeFromChars(said))], HashAlgorithmName.SHA256, DSASignatureFormat.Rfc3279DerSequence);
        if (isTampered) about[33]++;
        return Credential(new() { ["clientDataJSON"] = said, ["authenticatorData"] = Base64Url.EncodeToString(about), ["signature"] = Base64Url.EncodeToString(signature), ["userHandle"] = owner });
    }

    /// <summary>The count of its uses begins anew, as in a copy of it.</summary>
    internal void SetBack() => used = 0;

    private byte[] About(string desk, byte more)
    {
        var count = new byte[4];
        BinaryPrimitives.WriteUInt32BigEndian(count, ++used);
        return [.. SHA256.HashData(Encoding.UTF8.GetBytes(desk)), (byte)(Present | (IsVerified ? Verified : 0) | more), .. count];
    }

    private static string Said(string type, JsonElement options, string origin) =>
        Base64Url.EncodeToString(JsonSerializer.SerializeToUtf8Bytes(new { type, challenge = options.GetProperty("challenge").GetString(), origin, crossOrigin = false }));

    private static byte[] Text(string text) => [(byte)(0x60 | text.Length), .. Encoding.ASCII.GetBytes(text)];

    private string Credential(Dictionary<string, object> response) =>
        JsonSerializer.Serialize(new Dictionary<string, object> { ["id"] = Id, ["rawId"] = Id, ["type"] = "public-key", ["authenticatorAttachment"] = "platform", ["clientExtensionResults"] = new { }, ["response"] = response });
}
