namespace Tussock.Exchange.Reading;

/// <summary>A stream that must hold as many bytes as were promised, else reading its end fails: packed bytes that were cut off otherwise look like a shorter text.</summary>
/// <param name="inner">The bytes; closed with this stream.</param>
/// <param name="promised">How many there should be at least.</param>
internal sealed class MeasuredStream(Stream inner, long promised) : Stream
{
    private long came;

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position
    {
        get => came;
        set => throw new NotSupportedException();
    }

    public override int Read(byte[] buffer, int offset, int count)
    {
        var read = inner.Read(buffer, offset, count);
        came += read;
        return read > 0 || count == 0 || came >= promised ? read : throw new InvalidDataException();
    }

    public override void Flush()
    {
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing) inner.Dispose();
        base.Dispose(disposing);
    }
}
