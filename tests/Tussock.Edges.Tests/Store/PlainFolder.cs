using System.Collections.Immutable;
using System.Text;
using Tussock.Records;

namespace Tussock.Edges.Tests.Store;

/// <summary>Seasons for tests of the store: a tiny reader of folders that shares nothing with the product's, and invented seasons of any size.</summary>
internal static class PlainFolder
{
    internal static string Checks { get; } = FindChecks();

    internal static IEnumerable<string> ReferenceFolders() =>
        Directory.EnumerateFiles(Path.Combine(Checks, "reference-seasons"), "datapackage.json", SearchOption.AllDirectories).Select(f => Path.GetDirectoryName(f)!).Order(StringComparer.Ordinal);

    internal static SeasonTables Read(string folder)
    {
        var tables = RecordKind.All.Where(k => File.Exists(Path.Combine(folder, k.File))).Select(k => Table(k, File.ReadAllText(Path.Combine(folder, k.File))));
        return new SeasonTables(SeasonPackage.Parse(File.ReadAllText(Path.Combine(folder, "datapackage.json"))), [.. tables], ImmutableSortedDictionary<string, string>.Empty);
    }

    internal static RecordTable Table(RecordKind kind, string csv)
    {
        var rows = Cells(csv).Where(r => r.Length > 1 || r[0].Length > 0).ToArray();
        return new RecordTable(kind, [.. rows[0]], [.. rows.Skip(1).Select((r, i) => new RecordRow(i + 2, [.. r]))]);
    }

    /// <summary>An invented season.</summary>
    internal static SeasonTables Invented(string name, int nests, int visitsANest = 2)
    {
        var lines = (nests + 5) / 6;
        var package = SeasonPackage.Parse($$"""{"title":"Invented","season":{"name":"{{name}}","year":2024,"cover_classes":["grass","shrub"],"loss_rule":"any_egg"},"resources":[{"name":"nests","path":"nests.csv"}]}""");
        static RecordRow Row(int i, params string[] cells) => new(i + 2, [.. cells]);
        static string N(int n) => n.ToString(System.Globalization.CultureInfo.InvariantCulture);
        var transects = Enumerable.Range(0, lines).Select(i => Row(i, "Invented ranch", "North", "T" + N(i), "2024-05-06")).ToImmutableArray();
        var nestRows = Enumerable.Range(0, nests).Select(i => Row(i, "T" + N(i / 6), N((i % 6) + 1), i % 2 == 0 ? "grass" : "shrub", "bluestem", "3", N(10 + (i % 5)), "NNE", "")).ToImmutableArray();
        var visits = Enumerable.Range(0, nests * visitsANest).Select(i => Row(i, "T" + N(i / visitsANest / 6), N((i / visitsANest % 6) + 1), i % visitsANest == 0 ? "2024-05-20" : "2024-06-03", i % 7 == 0 ? "depredated" : "intact", "3", "Ann", "")).ToImmutableArray();
        return new SeasonTables(package,
            [
                new RecordTable(RecordKind.Pastures, ["property", "pasture"], [Row(0, "Invented ranch", "North")]),
                new RecordTable(RecordKind.Transects, ["property", "pasture", "transect", "set_on"], transects),
                new RecordTable(RecordKind.Nests, ["transect", "nest", "cover", "plant", "eggs", "steps", "direction", "note"], nestRows),
                new RecordTable(RecordKind.Visits, ["transect", "nest", "visited_on", "finding", "eggs_intact", "observer", "note"], visits),
            ],
            ImmutableSortedDictionary<string, string>.Empty.Add("pastures.geojson", """{"type":"FeatureCollection","features":[]}"""));
    }

    /// <summary>The season with one cell changed.</summary>
    internal static SeasonTables With(this SeasonTables season, RecordKind kind, int row, string column, string text)
    {
        var table = season.Table(kind)!;
        var changed = table.Rows[row] with { Cells = table.Rows[row].Cells.SetItem(table.IndexOf(column), text) };
        return season with { Tables = season.Tables.Replace(table, table with { Rows = table.Rows.SetItem(row, changed) }) };
    }

    /// <summary>The season without one row.</summary>
    internal static SeasonTables Without(this SeasonTables season, RecordKind kind, int row)
    {
        var table = season.Table(kind)!;
        return season with { Tables = season.Tables.Replace(table, table with { Rows = table.Rows.RemoveAt(row) }) };
    }

    /// <summary>All tables as text, without the id when <paramref name="withId"/> is false.</summary>
    internal static string Text(this SeasonTables season, bool withId)
    {
        var text = new StringBuilder(season.Package.ToText());
        foreach (var table in season.Tables)
        {
            var columns = Enumerable.Range(0, table.Columns.Length).Where(i => withId || table.Columns[i] != "id").ToArray();
            text.Append("== ").AppendLine(table.Kind.File).AppendJoin('|', columns.Select(i => table.Columns[i])).AppendLine();
            foreach (var row in table.Rows) text.AppendJoin('|', columns.Select(i => i < row.Cells.Length ? row.Cells[i] : "")).AppendLine();
        }

        foreach (var (name, other) in season.Texts) text.Append("== ").AppendLine(name).AppendLine(other);
        return text.ToString();
    }

    private static IEnumerable<string[]> Cells(string csv)
    {
        var row = new List<string>();
        var cell = new StringBuilder();
        var isQuoted = false;
        for (var i = 0; i < csv.Length; i++)
        {
            var c = csv[i];
            if (c == '"' && isQuoted && i + 1 < csv.Length && csv[i + 1] == '"') cell.Append(csv[++i]);
            else if (c == '"') isQuoted = !isQuoted;
            else if (isQuoted || c is not (',' or '\n' or '\r')) cell.Append(c);
            else if (c == ',' || c == '\n')
            {
                row.Add(cell.ToString());
                cell.Clear();
                if (c != '\n') continue;
                yield return [.. row];
                row.Clear();
            }
        }

        if (row.Count > 0 || cell.Length > 0) yield return [.. row, cell.ToString()];
    }

    private static string FindChecks()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Tussock.slnx"))) folder = folder.Parent;
        return Path.Combine((folder ?? throw new InvalidOperationException("The tests must run inside the checkout")).FullName, "tests", "checks");
    }
}

/// <summary>A folder that is gone when the test is over.</summary>
internal sealed class StoreScratch : IDisposable
{
    internal StoreScratch() => Folder = Directory.CreateTempSubdirectory("tussock-store-").FullName;

    internal string Folder { get; }

    /// <summary>Path of the data file.</summary>
    internal string File => Path.Combine(Folder, "season.db");

    /// <summary>Names of everything in the folder.</summary>
    internal string[] Names => [.. Directory.EnumerateFileSystemEntries(Folder).Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal)];

    public void Dispose() => Directory.Delete(Folder, recursive: true);
}
