namespace Tussock.Store.Tables;

/// <summary>One entry of the journal as a row.</summary>
internal sealed class ChangeRow
{
    public byte[] Id { get; set; } = [];

    public byte[] Batch { get; set; } = [];

    public string Device { get; set; } = "";

    public long DeviceSeq { get; set; }

    public byte[] Season { get; set; } = [];

    public string Kind { get; set; } = "";

    public byte[] Record { get; set; } = [];

    public int Op { get; set; }

    public string Fields { get; set; } = "";

    public string By { get; set; } = "";

    /// <summary>Milliseconds since 1970, UTC.</summary>
    public long SaidAt { get; set; }

    /// <summary>Minutes that the device's clock was ahead of UTC.</summary>
    public int Offset { get; set; }

    /// <summary>Milliseconds since 1970, UTC.</summary>
    public long CameAt { get; set; }

    public string Source { get; set; } = "";

    public long Position { get; set; }

    public int Format { get; set; }
}
