using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Tests;

/// <summary>Makes tables of season files for tests of the core: plain CSV with quotes, without the product's reader.</summary>
public static class FolderInTests
{
    /// <summary>The season in a folder.</summary>
    public static Season Season(string folder) =>
        Season(Directory.GetFiles(folder).ToDictionary(f => Path.GetFileName(f), File.ReadAllText, StringComparer.Ordinal));

    /// <summary>The season in texts by file name.</summary>
    public static Season Season(IReadOnlyDictionary<string, string> files) =>
        SeasonReading.Read(Tables(files), out var problems) ?? throw new ArgumentException(string.Join("; ", problems.Select(p => p.Rule + " " + p.Place)), nameof(files));

    /// <summary>The tables in texts by file name.</summary>
    public static SeasonTables Tables(IReadOnlyDictionary<string, string> files)
    {
        var tables = RecordKind.All.Where(k => files.ContainsKey(k.File)).Select(k => Table(k, files[k.File])).ToImmutableArray();
        var texts = files.Where(f => !f.Key.EndsWith(".csv", StringComparison.Ordinal) && f.Key != "datapackage.json");
        return new SeasonTables(SeasonPackage.Parse(files["datapackage.json"]), tables, texts.ToImmutableSortedDictionary(f => f.Key, f => f.Value, StringComparer.Ordinal));
    }

    private static RecordTable Table(RecordKind kind, string text)
    {
        var lines = text.Split('\n');
        var rows = lines.Select((line, i) => (Line: i + 1, Text: line.TrimEnd('\r'))).Where(l => l.Text.Length > 0).ToArray();
        return new RecordTable(kind, [.. Cells(rows[0].Text)], [.. rows.Skip(1).Select(r => new RecordRow(r.Line, [.. Cells(r.Text)]))]);
    }

    private static List<string> Cells(string line)
    {
        var cells = new List<string>();
        for (var at = 0; at <= line.Length;)
        {
            var isQuoted = at < line.Length && line[at] == '"';
            var end = isQuoted ? line.IndexOf('"', at + 1) : line.IndexOf(',', at);
            if (end < 0) end = line.Length;
            cells.Add(isQuoted ? line[(at + 1)..end] : line[at..end]);
            at = end + (isQuoted ? 2 : 1);
        }

        return cells;
    }
}
