using System.Buffers.Binary;
using System.Collections.Immutable;
using System.IO.Compression;
using System.Text;
using Tussock.Exchange.Reading;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;

namespace Tussock.Exchange.CameraPackage;

/// <summary>One row of a table of a package, its cells by the standard's names.</summary>
/// <param name="Table">The table.</param>
/// <param name="File">File in which it stands.</param>
/// <param name="Line">Line of that file.</param>
/// <param name="Cells">Cells by position in the standard's list.</param>
internal readonly record struct PackageRow(PackageTable Table, string File, int Line, string[] Cells)
{
    internal string Text(string column) => Table.IndexOf(column) is >= 0 and var i ? Cells[i] : "";
}

/// <summary>A table of a package, every cell held against the standard's Table Schema; all that is wrong is told.</summary>
internal sealed class PackageTable
{
    private static readonly CsvLimits Limits = new() { Rows = 1_000_000, FileBytes = 128L << 20, Columns = 500 };
    private readonly ImmutableArray<FieldRule> rules;
    private readonly Dictionary<string, int> index = new(StringComparer.Ordinal);
    private readonly List<PackageRow> rows = [];
    private readonly List<Problem> problems;
    private readonly Dictionary<string, (string File, int Line)> ids = new(StringComparer.Ordinal);

    internal PackageTable(string name, List<Problem> problems)
    {
        Name = name;
        this.problems = problems;
        rules = FieldRule.Of(name);
        for (var i = 0; i < rules.Length; i++) index.Add(rules[i].Name, i);
    }

    internal string Name { get; }

    internal IReadOnlyList<PackageRow> Rows => rows;

    internal int IndexOf(string column) => index.GetValueOrDefault(column, -1);

    /// <summary>Whether all its rows were seen; what a table with unread rows lacks says nothing.</summary>
    internal bool IsWhole { get; private set; } = true;

    /// <summary>Whether a row with this id was there, good or bad.</summary>
    internal bool HasId(string id) => ids.ContainsKey(id);

    /// <summary>Reads the files of the table.</summary>
    internal void Read(ListedTable listed, PackageFiles files, CancellationToken cancel)
    {
        foreach (var path in listed.Paths)
        {
            var bytes = new FileFindings(path, Limits.ProblemsTold, problems);
            var cells = new FileFindings(path, Limits.ProblemsTold, problems, "camera_package");
            try
            {
                if (!files.Has(path)) cells.Stop("no_table", null, null, ("name", Name));
                else if (Opened(listed, path, files, cells) is { } stream) using (stream) Read(listed, path, stream, bytes, cells, cancel);
            }
            catch (Exception wrong) when (wrong is InvalidDataException or IOException or UnauthorizedAccessException or NotSupportedException)
            {
                // Packed bytes that are damaged or cut off, a disk at fault, no leave to read: one sentence, and the other tables are read all the same.
                cells.Stop("bad_bytes", null, null, ("name", Name));
            }

            bytes.Close();
            cells.Close();
            if (problems.Exists(p => p.Place.File == path && p.Rule is not ("cell" or "id_twice"))) IsWhole = false;
        }
    }

    private Stream? Opened(ListedTable listed, string path, PackageFiles files, FileFindings cells)
    {
        var isUtf8 = listed.Encoding.Length == 0 || listed.Encoding.ToUpperInvariant() is "UTF-8" or "UTF8";
        var encoding = isUtf8 ? null : Named(listed.Encoding);
        if (!isUtf8 && encoding is null)
        {
            cells.Stop("odd_encoding", null, null, ("found", TableCheck.Shown(listed.Encoding)));
            return null;
        }

        Stream? stream = files.Reading(path);
        if (listed.IsPacked || path.EndsWith(".gz", StringComparison.OrdinalIgnoreCase)) stream = Unpacked(stream, cells);
        return encoding is null || stream is null ? stream : Encoding.CreateTranscodingStream(stream, encoding, Encoding.UTF8);
    }

    /// <summary>Unpacks while it is read. The unpacker takes packed bytes that end early for the end of the text, so the length that they name is held against what came.</summary>
    private MeasuredStream? Unpacked(Stream stream, FileFindings cells)
    {
        using (stream)
        {
            if (PackedFiles.Bytes(stream, (int)Limits.FileBytes) is { Length: > 18 } packed)
                return new MeasuredStream(new GZipStream(new MemoryStream(packed), CompressionMode.Decompress), BinaryPrimitives.ReadUInt32LittleEndian(packed.AsSpan(packed.Length - 4)));
        }

        cells.Stop("bad_bytes", null, null, ("name", Name));
        return null;
    }

    private static Encoding? Named(string name)
    {
        try
        {
            return CodePagesEncodingProvider.Instance.GetEncoding(name) ?? Encoding.GetEncoding(name);
        }
        catch (ArgumentException)
        {
            // No encoding of that name; the caller says so.
            return null;
        }
    }

    private void Read(ListedTable listed, string path, Stream stream, FileFindings bytes, FileFindings cells, CancellationToken cancel)
    {
        if (TableReader.Cells(stream, c => index.ContainsKey(c), bytes, Limits, cancel, listed.Separator, listed.Quote) is not { } read) return;
        var at = Columns(read.Columns, cells);
        foreach (var row in read.Rows)
        {
            var texts = new string[rules.Length];
            for (var i = 0; i < rules.Length; i++) texts[i] = at[i] < 0 ? "" : listed.Empty.Contains(row.Cells[at[i]].Trim()) ? "" : row.Cells[at[i]].Trim();
            if (IsGood(texts, at, path, row.Line, cells)) rows.Add(new PackageRow(this, path, row.Line, texts));
        }
    }

    /// <summary>Where each column of the standard stands in the file; −1 where it lacks it. Capitals are let go where no name fits exactly.</summary>
    private int[] Columns(ImmutableArray<string> header, FileFindings cells)
    {
        var names = header.Select(h => h.Trim()).ToArray();
        var at = new int[rules.Length];
        for (var i = 0; i < rules.Length; i++)
        {
            at[i] = Array.IndexOf(names, rules[i].Name);
            if (at[i] < 0) at[i] = Array.FindIndex(names, n => n.Equals(rules[i].Name, StringComparison.OrdinalIgnoreCase));
            if (at[i] < 0 && rules[i].IsRequired) cells.Stop("column_missing", 1, rules[i].Name, ("column", rules[i].Name), ("found", string.Join(", ", names.Take(30))));
            if (at[i] >= 0 && Array.LastIndexOf(names, names[at[i]]) != at[i]) cells.Stop("column_twice", 1, rules[i].Name, ("column", rules[i].Name));
        }

        return at;
    }

    private bool IsGood(string[] texts, int[] at, string path, int line, FileFindings cells)
    {
        var isGood = true;
        for (var i = 0; i < rules.Length; i++)
        {
            if (at[i] < 0) continue;
            if (rules[i].Expected(texts[i]) is { } expected)
            {
                isGood = false;
                cells.Stop("cell", line, rules[i].Name, ("column", rules[i].Name), ("found", texts[i].Length == 0 ? Phrase.Of("reading.nothing") : TableCheck.Shown(texts[i])), ("expected", expected));
            }

            if (!rules[i].IsUnique || texts[i].Length == 0 || ids.TryAdd(texts[i], (path, line))) continue;
            isGood = false;
            cells.Stop("id_twice", line, rules[i].Name, ("column", rules[i].Name), ("found", TableCheck.Shown(texts[i])), ("line", ids[texts[i]].Line), ("file", ids[texts[i]].File));
        }

        return isGood;
    }
}
