using System.Collections.Immutable;
using System.Text;
using Tussock.Records;

namespace Tussock.Exchange.SeasonFolder;

/// <summary>Writes a season folder that reads back as the same tables: same values, ids, columns and order; UTF-8 without a mark, line feeds.</summary>
/// <remarks>
/// The folder is made whole beside its place under another name, flushed to the disk, and then renamed; a former one is renamed away first, put back
/// when the second renaming fails, and removed last. So what stands under the name is always one season or the other, whole; only a machine that stops between the two renamings
/// leaves the former one beside it under a name that begins with a dot.
/// </remarks>
public static class SeasonFolderWriter
{
    private static readonly UTF8Encoding Strict = new(false, true);

    /// <summary>Writes the folder.</summary>
    /// <param name="tables">The season.</param>
    /// <param name="folder">Path of the folder: new, empty, or (with <paramref name="overwrite"/>) holding a season.</param>
    /// <param name="overwrite">Whether a season that stands there is replaced. What else lies in its folder (photos, notes) is kept; a folder without a season is never replaced.</param>
    /// <param name="cancel">Ends the writing with an exception; nothing has changed then.</param>
    /// <returns>Why nothing was written; empty, or a note alone, when all was.</returns>
    /// <exception cref="ArgumentException">A text has a name that no season folder has, or a cell holds half a character.</exception>
    public static ImmutableArray<Problem> Write(SeasonTables tables, string folder, bool overwrite = false, CancellationToken cancel = default) =>
        Write(tables, folder, overwrite, new FolderSteps(), cancel);

    /// <summary>As above, with steps that may fail.</summary>
    internal static ImmutableArray<Problem> Write(SeasonTables tables, string folder, bool overwrite, FolderSteps steps, CancellationToken cancel = default)
    {
        if (tables.Texts.Keys.FirstOrDefault(n => !FolderFiles.Texts.Contains(n)) is { } name) throw new ArgumentException("No text of a season folder: " + name, nameof(tables));
        var target = Target(folder);
        if (Refusal(target, overwrite) is { } rule) return [Told(rule, Severity.Stop, folder)];
        var beside = Path.Combine(Path.GetDirectoryName(target)!, "." + Path.GetFileName(target) + "." + Guid.NewGuid().ToString("N")[..8]);
        var isDone = false;
        try
        {
            Fill(beside + ".new", target, tables, steps, cancel);
            var isRemoved = PutInPlace(beside, target, steps);
            isDone = true;
            return isRemoved ? [] : [Told("former_left", Severity.Note, beside + ".old")];
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            // A full or read-only disk is no fault of the program: the former folder stands, and a sentence says so.
            return [Told("not_written", Severity.Stop, folder)];
        }
        finally
        {
            if (!isDone) Discard(beside + ".new");
        }
    }

    private static string Target(string folder)
    {
        var target = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
        for (var links = 0; links < 16 && new DirectoryInfo(target).LinkTarget is { } link; links++) target = Path.TrimEndingDirectorySeparator(Path.GetFullPath(link, Path.GetDirectoryName(target)!));
        return target;
    }

    private static string? Refusal(string target, bool overwrite)
    {
        if (Path.GetDirectoryName(target) is null) return "target_root";
        if (File.Exists(target) || new DirectoryInfo(target).LinkTarget is not null) return "target_no_folder";
        if (!Directory.Exists(target) || !Directory.EnumerateFileSystemEntries(target).Any()) return null;
        if (!overwrite) return "target_taken";
        return File.Exists(Path.Combine(target, FolderFiles.Description)) ? null : "target_foreign";
    }

    private static void Fill(string made, string former, SeasonTables tables, FolderSteps steps, CancellationToken cancel)
    {
        steps.Create(made);
        var kept = Directory.Exists(former) ? CopyOthers(former, made, "", steps, cancel) : [];
        foreach (var table in tables.Tables)
        {
            steps.Write(Path.Combine(made, table.Kind.File), stream =>
            {
                using var writer = new StreamWriter(stream, Strict, 1 << 16, leaveOpen: true);
                CsvText.Write(table, writer, cancel);
            });
        }

        foreach (var (name, text) in tables.Texts) steps.Write(Path.Combine(made, name), stream => stream.Write(Strict.GetBytes(text)));
        var description = Resources.Listed(tables, kept);
        steps.Write(Path.Combine(made, FolderFiles.Description), stream => stream.Write(Strict.GetBytes(description.ToText())));
    }

    /// <summary>Copies what is no part of the season, and tells its paths.</summary>
    private static List<string> CopyOthers(string from, string to, string under, FolderSteps steps, CancellationToken cancel)
    {
        var kept = new List<string>();
        foreach (var entry in new DirectoryInfo(from).EnumerateFileSystemInfos().OrderBy(e => e.Name, StringComparer.Ordinal))
        {
            cancel.ThrowIfCancellationRequested();
            var name = under + entry.Name;
            if (FolderFiles.IsKnown(name)) continue;
            var copy = Path.Combine(to, entry.Name);
            if (entry is DirectoryInfo { LinkTarget: null })
            {
                steps.Create(copy);
                kept.AddRange(CopyOthers(entry.FullName, copy, name + "/", steps, cancel));
            }
            else
            {
                steps.Copy(entry, copy);
                kept.Add(name);
            }
        }

        return kept;
    }

    /// <summary>Puts the new folder where it belongs; false when the former one is still beside it.</summary>
    private static bool PutInPlace(string beside, string target, FolderSteps steps)
    {
        if (!Directory.Exists(target))
        {
            steps.Rename(beside + ".new", target);
            return true;
        }

        steps.Rename(target, beside + ".old");
        try
        {
            steps.Rename(beside + ".new", target);
        }
        catch
        {
            // Whatever went wrong, the former folder gets its name back before anyone hears of it.
            Directory.Move(beside + ".old", target);
            throw;
        }

        try
        {
            steps.Remove(beside + ".old");
            return true;
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            // The new season is in its place; what is left over is told, not undone.
            return false;
        }
    }

    private static void Discard(string folder)
    {
        try
        {
            if (Directory.Exists(folder)) Directory.Delete(folder, recursive: true);
        }
        catch (Exception wrong) when (wrong is IOException or UnauthorizedAccessException)
        {
            // The disk that refused the writing may refuse this as well; the first refusal is what has to be told.
        }
    }

    private static Problem Told(string rule, Severity severity, string path) =>
        new(rule, severity, new Place(path), Phrase.Of("folder." + rule, ("path", TableCheck.Shown(path))), Phrase.Of("folder." + rule + "_todo", ("path", TableCheck.Shown(path))));
}
