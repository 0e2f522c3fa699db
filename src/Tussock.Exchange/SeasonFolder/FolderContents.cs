using System.Collections.Immutable;
using Tussock.Exchange.Reading;
using Tussock.Records;

namespace Tussock.Exchange.SeasonFolder;

/// <summary>What could be read of a season folder, good and bad files side by side.</summary>
internal sealed class FolderContents
{
    private readonly string folder;
    private readonly CsvLimits limits;
    private readonly List<Problem> problems = [];
    private readonly ImmutableSortedDictionary<string, string>.Builder texts = ImmutableSortedDictionary.CreateBuilder<string, string>(StringComparer.Ordinal);
    private readonly List<RecordTable> tables = [];
    private ImmutableArray<ListedFile> listed = [];
    private ImmutableArray<string> present = [];

    private FolderContents(string folder, CsvLimits limits) => (this.folder, this.limits) = (folder, limits);

    /// <summary>All that is wrong with the folder as bytes, in the order of the folder.</summary>
    internal IReadOnlyList<Problem> Problems => problems;

    /// <summary>The description; null when it could not be read.</summary>
    internal SeasonPackage? Package { get; private set; }

    /// <summary>Tables and texts that could be read, with an empty description where there is none.</summary>
    internal SeasonTables Tables => new(Package ?? new SeasonPackage([], [], []), [.. tables], texts.ToImmutable());

    /// <summary>Whether there is a folder whose files can be listed.</summary>
    internal bool IsFolder { get; private set; }

    /// <summary>Whether something stops an import.</summary>
    internal bool IsStopped => problems.Exists(p => p.Severity == Severity.Stop);

    /// <summary>Whether a file of the folder has a fault that stops an import.</summary>
    internal bool IsBad(string file) => problems.Exists(p => p.Severity == Severity.Stop && p.Place.File == file);

    /// <summary>Reads a folder, given as itself or as its <c>datapackage.json</c>.</summary>
    internal static FolderContents Read(string path, CsvLimits limits, CancellationToken cancel)
    {
        var name = Path.GetFileName(path);
        var whole = Path.GetFullPath(name == FolderFiles.Description && File.Exists(path) ? Path.GetDirectoryName(Path.GetFullPath(path))! : path);
        var contents = new FolderContents(whole, limits);
        if (Directory.Exists(whole)) contents.ReadFiles(cancel);
        else contents.Findings(path).Stop("no_folder", null, null, ("path", TableCheck.Shown(path)));
        return contents;
    }

    private void ReadFiles(CancellationToken cancel)
    {
        IsFolder = List();
        if (!IsFolder) return;
        ReadPackage();
        ReadTables(cancel);
        foreach (var name in FolderFiles.Texts) ReadText(name);
        NoteOthers();
    }

    private bool List()
    {
        try
        {
            present = [.. Directory.EnumerateFiles(folder).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];
            return true;
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            // The folder can't be listed: a fault of the request, told as such; there is nothing else to read.
            Findings(FolderFiles.Description).Stop("unreadable", null, null, ("file", folder));
            return false;
        }
    }

    private void ReadPackage()
    {
        var findings = Findings(FolderFiles.Description);
        if (!Exists(FolderFiles.Description)) findings.Stop("no_description", null, null);
        else if (Bytes(FolderFiles.Description, limits.DescriptionBytes, findings) is { } bytes) Package = PackageReader.Read(bytes, findings);
        if (Package is null) return;
        var files = PackageReader.Files(Package, findings);
        listed = [.. files.Where(f => FolderPath.IsInside(folder, f.Path))];
        foreach (var file in files.Except(listed)) findings.Stop("path_link", null, file.Place, ("path", TableCheck.Shown(file.Path)));
        foreach (var file in listed.Where(f => !Exists(f.Path))) Absent(file, findings);
        findings.Close();
    }

    private void Absent(ListedFile file, FileFindings findings)
    {
        if (Near(file.Path) is { } near) findings.Stop("resource_near", null, file.Place, ("file", file.Path), ("near", near));
        else findings.Stop("resource_absent", null, file.Place, ("file", file.Path));
    }

    /// <summary>All files side by side; what they hold and what is wrong with them stays in the order of the kinds.</summary>
    private void ReadTables(CancellationToken cancel)
    {
        var read = new (RecordTable? Table, List<Problem> Problems)[RecordKind.All.Length];
        Numerics.Ordered.For(read.Length, k => read[k] = ReadTable(RecordKind.All[k], cancel), cancel);
        foreach (var (table, wrong) in read)
        {
            if (table is not null) tables.Add(table);
            problems.AddRange(wrong);
        }
    }

    private (RecordTable? Table, List<Problem> Problems) ReadTable(RecordKind kind, CancellationToken cancel)
    {
        var wrong = new List<Problem>();
        var findings = new FileFindings(kind.File, limits.ProblemsTold, wrong);
        RecordTable? table = null;
        if (Exists(kind.File))
        {
            table = Opened(kind.File, findings, stream => TableReader.Read(stream, kind, findings, limits, cancel));
            findings.Close();
        }
        else if (kind.IsRequired && !listed.Any(f => f.Path == kind.File))
        {
            var todo = Near(kind.File) is { } near ? Phrase.Of("folder.rename_todo", ("near", near), ("file", kind.File)) : Phrase.Of("reading.file_missing_todo", ("file", kind.File));
            wrong.Add(new Problem("file_missing", Severity.Stop, new Place(kind.File), Phrase.Of("reading.file_missing", ("file", kind.File)), todo));
        }

        return (table, wrong);
    }

    private void ReadText(string name)
    {
        if (!Exists(name)) return;
        var findings = Findings(name);
        if (Bytes(name, limits.FileBytes, findings) is not { } bytes) return;
        if (!System.Text.Unicode.Utf8.IsValid(bytes)) findings.Stop("text_not_utf8", null, null);
        else texts.Add(name, System.Text.Encoding.UTF8.GetString(bytes.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF]) ? bytes.AsSpan(3) : bytes));
    }

    private void NoteOthers()
    {
        var others = present.Where(f => f.EndsWith(".csv", StringComparison.OrdinalIgnoreCase) && RecordKind.Named(Path.GetFileNameWithoutExtension(f)) is null)
            .Concat(listed.Select(f => f.Path).Where(f => !FolderFiles.IsKnown(f) && Exists(f)))
            .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal);
        foreach (var file in others) Findings(file).Note("not_of_the_season", ("file", file));
    }

    private byte[]? Bytes(string file, long most, FileFindings findings) => Opened(file, findings, stream =>
    {
        if (stream.Length > most)
        {
            findings.Stop("file_too_long", null, null, ("most", most >> 20));
            return null;
        }

        var bytes = new byte[stream.Length];
        var count = stream.ReadAtLeast(bytes, bytes.Length, throwOnEndOfStream: false);
        return count == bytes.Length ? bytes : bytes[..count];
    });

    private T? Opened<T>(string file, FileFindings findings, Func<Stream, T?> read)
        where T : class
    {
        if (!FolderPath.IsInside(folder, file))
        {
            findings.Stop("link_outside", null, null, ("file", file));
            return null;
        }

        try
        {
            // A pipe has no length; opening one would wait for ever.
            var path = Path.Combine(folder, file);
            var entry = new FileInfo(path);
            var isEmpty = (entry.ResolveLinkTarget(true) as FileInfo ?? entry).Length == 0;
            using Stream stream = isEmpty ? new MemoryStream() : new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete, 1, FileOptions.SequentialScan);
            return read(stream);
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            // No leave to read, a disk at fault, a directory of that name: one sentence, and the other files are read all the same.
            findings.Stop("unreadable", null, null, ("file", file));
            return null;
        }
    }

    private bool Exists(string file) => Path.Exists(Path.Combine(folder, file));

    private string? Near(string file) => present.FirstOrDefault(f => f != file && f.Equals(file, StringComparison.OrdinalIgnoreCase));

    private FileFindings Findings(string file) => new(file, limits.ProblemsTold, problems);
}
