namespace Tussock.Store.Bulk;

/// <summary>A write that is prepared once and given for every row. A database may gather what is given: it is written before anything is read, before a statement that removes, and before the commit.</summary>
internal abstract class Statement : IDisposable
{
    internal abstract Statement Number(long? value);

    internal abstract Statement Flag(bool value);

    internal abstract Statement Text(string value);

    internal abstract Statement Text(ReadOnlySpan<byte> utf8);

    internal abstract Statement Bytes(ReadOnlySpan<byte> value);

    internal Statement Id(Guid value)
    {
        Span<byte> bytes = stackalloc byte[16];
        value.TryWriteBytes(bytes, bigEndian: true, out _);
        return Bytes(bytes);
    }

    /// <summary>Runs it with the values bound since the last run.</summary>
    internal abstract void Run();

    public abstract void Dispose();
}
