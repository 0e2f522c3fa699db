namespace Tussock.Store.Tables;

/// <summary>A head of a field that has more than one.</summary>
internal sealed class FieldHead
{
    public byte[] Record { get; set; } = [];

    public string Field { get; set; } = "";

    public byte[] Change { get; set; } = [];

    public byte[] Season { get; set; } = [];

    public string Kind { get; set; } = "";

    public string Value { get; set; } = "";
}

/// <summary>A row of the season's last import: eight bytes for each digest field of its kind.</summary>
internal sealed class ImportRow
{
    public byte[] Record { get; set; } = [];

    public byte[] Season { get; set; } = [];

    public byte[] Digest { get; set; } = [];
}

/// <summary>The fields that the digests of a kind are made of.</summary>
internal sealed class ImportFields
{
    public byte[] Season { get; set; } = [];

    public string Kind { get; set; } = "";

    /// <summary>A JSON list of names.</summary>
    public string Fields { get; set; } = "";
}

/// <summary>The data file as a device that makes changes: one row.</summary>
internal sealed class FileDevice
{
    public int Id { get; set; }

    public string Device { get; set; } = "";

    public long MadeAt { get; set; }
}
