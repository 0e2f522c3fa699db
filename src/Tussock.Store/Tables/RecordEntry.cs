namespace Tussock.Store.Tables;

/// <summary>One record as the journal leaves it. All kinds have tables of this shape; the fields are JSON because their names are the folder's, unknown columns among them.</summary>
internal sealed class RecordEntry
{
    public byte[] Id { get; set; } = [];

    public byte[] Season { get; set; } = [];

    /// <summary>The natural key in its canonical spelling, not unique.</summary>
    public string Key { get; set; } = "";

    public bool IsVoid { get; set; }

    public string Fields { get; set; } = "";
}
