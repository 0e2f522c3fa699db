namespace Tussock.Store.Tables;

/// <summary>A phone that was paired. Times are milliseconds since 1970, UTC.</summary>
internal sealed class PhoneRow
{
    public string Device { get; set; } = "";

    public string Name { get; set; } = "";

    /// <summary>SHA-256 of its key; the key itself is kept nowhere.</summary>
    public byte[] KeyHash { get; set; } = [];

    public long PairedAt { get; set; }

    public long? ShutOutAt { get; set; }

    public long? LastSeen { get; set; }
}
