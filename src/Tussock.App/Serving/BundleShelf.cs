using System.IO.Compression;
using System.Security.Cryptography;
using Tussock.Fieldwork;
using Tussock.Store;

namespace Tussock.App.Serving;

/// <summary>A bundle as it goes out.</summary>
/// <param name="ETag">Position and hash of what it says, in quotes.</param>
/// <param name="Bytes">The document.</param>
/// <param name="Packed">The same, packed with Brotli.</param>
internal sealed record ReadyBundle(string ETag, ReadOnlyMemory<byte> Bytes, byte[] Packed);

/// <summary>Makes the bundle once for each position of the journal. May be shared between threads.</summary>
internal sealed class BundleShelf(DataFile file, string season, PhoneCases cases, TimeProvider clock)
{
    private readonly Lock gate = new();
    private long position = -1;
    private ReadyBundle? ready;

    internal ReadyBundle Now()
    {
        lock (gate)
        {
            if (ready is not null && file.Position == position) return ready;
            var bundle = Of(file, season, cases.Now(), holdsViews: false);
            position = bundle.Position;
            var hash = Convert.ToHexStringLower(SHA256.HashData(bundle.Utf8(DateTimeOffset.UnixEpoch).Span))[..16];
            var bytes = bundle.Utf8(clock.GetUtcNow());
            return ready = new ReadyBundle(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"\"{position}-{hash}\""), bytes, Pack(bytes.Span));
        }
    }

    internal static FieldBundle Of(DataFile file, string season, FieldCases cases, bool holdsViews)
    {
        var state = file.States(season);
        return new FieldBundle { SeasonId = state.Id, Tables = state.Tables, Records = state.Records, Position = state.Position, FromHere = cases, HoldsViews = holdsViews };
    }

    private static byte[] Pack(ReadOnlySpan<byte> bytes)
    {
        var packed = new byte[BrotliEncoder.GetMaxCompressedLength(bytes.Length)];
        return BrotliEncoder.TryCompress(bytes, packed, out var length, quality: 4, window: 22) ? packed[..length] : throw new InvalidOperationException("The bundle could not be packed");
    }
}
