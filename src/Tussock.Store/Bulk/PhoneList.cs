using System.Collections.Immutable;
using System.Security.Cryptography;

namespace Tussock.Store.Bulk;

/// <summary>The phones that were paired with the file.</summary>
internal sealed class PhoneList(Database database)
{
    internal ImmutableArray<PairedPhone> All()
    {
        var phones = ImmutableArray.CreateBuilder<PairedPhone>();
        using var row = database.Query("SELECT device, name, paired_at, shut_out_at, last_seen FROM phone ORDER BY paired_at, device");
        while (row.Read()) phones.Add(new PairedPhone(Guid.Parse(row.GetString(0)), row.GetString(1), At(row.GetInt64(2)), row.IsDBNull(3) ? null : At(row.GetInt64(3)), row.IsDBNull(4) ? null : At(row.GetInt64(4))));
        return phones.ToImmutable();
    }

    /// <summary>Whether the key is this device's; the comparison takes as long for a wrong key as for a right one.</summary>
    internal bool HasKey(Guid device, ReadOnlySpan<byte> keyHash)
    {
        using var row = database.Query("SELECT key_hash FROM phone WHERE device = $0", device.ToString());
        var stored = row.Read() ? row.GetFieldValue<byte[]>(0) : new byte[SHA256.HashSizeInBytes];
        return CryptographicOperations.FixedTimeEquals(stored, keyHash);
    }

    internal void Add(Guid device, string name, byte[] keyHash, DateTimeOffset now) =>
        database.Run(database.Prepared("INSERT INTO phone (device, name, key_hash, paired_at) VALUES ($0, $1, $2, $3)", device.ToString(), name, keyHash, now.ToUnixTimeMilliseconds()));

    internal bool ShutOut(Guid device, DateTimeOffset now) =>
        database.Run(database.Prepared("UPDATE phone SET shut_out_at = COALESCE(shut_out_at, $1) WHERE device = $0", device.ToString(), now.ToUnixTimeMilliseconds())) == 1;

    internal void Seen(Guid device, DateTimeOffset now) =>
        database.Run(database.Prepared("UPDATE phone SET last_seen = $1 WHERE device = $0", device.ToString(), now.ToUnixTimeMilliseconds()));

    private static DateTimeOffset At(long milliseconds) => DateTimeOffset.FromUnixTimeMilliseconds(milliseconds);
}
