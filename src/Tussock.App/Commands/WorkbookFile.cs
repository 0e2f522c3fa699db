using System.Collections.Immutable;
using Tussock.Exchange.Workbook;
using Tussock.Records;

namespace Tussock.App.Commands;

/// <summary>A season as a workbook file: written by <c>tussock sheets --workbook</c>, read by <c>tussock import</c>.</summary>
internal static class WorkbookFile
{
    /// <summary>The empty season, when no file or folder has this name.</summary>
    private const string New = "new";

    /// <summary>Writes the workbook, whole or not at all, and never over another.</summary>
    internal static int Write(Screen screen, string data, string? season, string path, CancellationToken cancel)
    {
        var isNew = data == New && !Path.Exists(data);
        var (read, problems) = isNew ? (null, []) : SeasonSource.Season(data, season, cancel);
        if (read is null && !isNew) return screen.Refuse(problems);
        if (Path.Exists(path)) return screen.Refuse([Told("workbook.taken", path)]);
        var made = path + ".new";
        try
        {
            ImmutableArray<Problem> wrong;
            using (var stream = new FileStream(made, FileMode.Create, FileAccess.Write)) wrong = SeasonWorkbookWriter.Write(read?.Tables ?? SeasonWorkbookWriter.Blank, read, screen.Words, stream, cancel);
            if (wrong.IsEmpty) File.Move(made, path);
            if (!wrong.IsEmpty) return screen.Refuse(wrong);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            // No such folder, no leave, a full disk: what the user asked for can't be, and a sentence says so.
            return screen.Refuse([Told("workbook.not_written", path)]);
        }
        finally
        {
            if (File.Exists(made)) File.Delete(made);
        }

        screen.Out.WriteLine(path);
        return Exit.Done;
    }

    /// <summary>Reads a workbook; what is worth knowing is said at once.</summary>
    internal static (SeasonTables? Tables, ImmutableArray<Problem> Problems) Read(Screen screen, string path, CancellationToken cancel)
    {
        var (tables, problems) = SeasonWorkbookReader.Read(path, cancel);
        foreach (var note in problems.Where(p => p.Severity != Severity.Stop)) screen.Err.WriteLine(screen.Line(note));
        return (tables, problems);
    }

    private static Problem Told(string key, string path) => new(key[(key.IndexOf('.', StringComparison.Ordinal) + 1)..], Severity.Stop, new Place(path), Phrase.Of(key, ("path", TableCheck.Shown(path))), Phrase.Of(key + "_todo"));
}
