using System.IO.Compression;
using System.Xml;

namespace Tussock.Exchange.Spreadsheet;

/// <summary>The parts of a workbook file (ECMA-376 part 2: a zip file of XML), opened one by one; what is unpacked is counted.</summary>
internal sealed class WorkbookParts : IDisposable
{
    private readonly ZipArchive zip;
    private readonly SheetLimits limits;
    private long unpacked;

    private WorkbookParts(ZipArchive zip, SheetLimits limits) => (this.zip, this.limits) = (zip, limits);

    /// <summary>Opens a file by its first bytes.</summary>
    /// <exception cref="WorkbookFaultException">It is no workbook of this format.</exception>
    internal static WorkbookParts Open(Stream file, SheetLimits limits)
    {
        if (file.Length > limits.FileBytes) throw new WorkbookFaultException(WorkbookFault.TooLarge);
        Span<byte> start = stackalloc byte[4];
        var count = file.ReadAtLeast(start, 4, throwOnEndOfStream: false);
        file.Position = 0;
        if (start[..count].SequenceEqual((ReadOnlySpan<byte>)[0xD0, 0xCF, 0x11, 0xE0])) throw new WorkbookFaultException(WorkbookFault.OldOrLocked);
        if (!start[..count].StartsWith("PK"u8)) throw new WorkbookFaultException(WorkbookFault.Damaged);
        var archive = new ZipArchive(file, ZipArchiveMode.Read, leaveOpen: true);
        if (archive.Entries.Count > limits.Parts) throw new WorkbookFaultException(WorkbookFault.TooLarge);
        if (archive.GetEntry("META-INF/manifest.xml") is not null) throw new WorkbookFaultException(WorkbookFault.OpenDocument);
        return new WorkbookParts(archive, limits);
    }

    /// <summary>Opens a part; null when it is not there.</summary>
    internal XmlReader? Part(string path)
    {
        var entry = zip.GetEntry(path) ?? zip.Entries.FirstOrDefault(e => e.FullName.Replace('\\', '/').Equals(path, StringComparison.OrdinalIgnoreCase));
        return entry is null ? null : XmlReader.Create(new Counted(entry.Open(), this), new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            IgnoreComments = true,
            IgnoreProcessingInstructions = true,
            CloseInput = true,
        });
    }

    /// <summary>Targets of a part's relations: id → path and kind.</summary>
    internal Dictionary<string, (string Path, string Kind)> Relations(string part)
    {
        var cut = part.LastIndexOf('/') + 1;
        var found = new Dictionary<string, (string, string)>(StringComparer.Ordinal);
        using var xml = Part(part[..cut] + "_rels/" + part[cut..] + ".rels");
        while (xml?.Read() == true)
        {
            if (xml.NodeType != XmlNodeType.Element || xml.LocalName != "Relationship" || xml.GetAttribute("TargetMode") == "External") continue;
            if (xml.GetAttribute("Id") is { } id && xml.GetAttribute("Target") is { } target) found[id] = (Whole(part[..cut], target), xml.GetAttribute("Type") ?? "");
        }

        return found;
    }

    public void Dispose() => zip.Dispose();

    private static string Whole(string folder, string target)
    {
        if (target.StartsWith('/')) return target[1..];
        var steps = new List<string>();
        foreach (var step in (folder + target).Split('/'))
        {
            if (step == ".." && steps.Count > 0) steps.RemoveAt(steps.Count - 1);
            else if (step is not ("." or ".." or "")) steps.Add(step);
        }

        return string.Join('/', steps);
    }

    /// <summary>A part's bytes, counted against the limit of all: what a zip file says of its sizes is not believed.</summary>
    private sealed class Counted(Stream inner, WorkbookParts parts) : Stream
    {
        private long sinceTag;

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

        public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

        public override int Read(Span<byte> buffer)
        {
            var read = inner.Read(buffer);
            parts.unpacked += read;
            var end = buffer[..read].LastIndexOf((byte)'>');
            sinceTag = end < 0 ? sinceTag + read : read - end - 1;
            return parts.unpacked > parts.limits.UnpackedBytes || sinceTag > parts.limits.TagBytes ? throw new WorkbookFaultException(WorkbookFault.TooLarge) : read;
        }

        public override void Flush() => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        protected override void Dispose(bool disposing)
        {
            if (disposing) inner.Dispose();
            base.Dispose(disposing);
        }
    }
}
