using System.Text;
using Tussock.Records;

namespace Tussock.Edges.Tests.Exchange;

/// <summary>Tables written out in full, so that two seasons can be compared and a difference be seen.</summary>
internal static class SameTables
{
    /// <summary>Everything but line numbers: description, kinds, columns, cells, texts.</summary>
    internal static string Shown(SeasonTables tables)
    {
        var text = new StringBuilder(tables.Package.ToText());
        foreach (var table in tables.Tables)
        {
            text.Append("== ").AppendLine(table.Kind.Name).AppendLine(string.Join('¦', table.Columns));
            foreach (var row in table.Rows) text.AppendLine(string.Join('¦', row.Cells));
        }

        foreach (var (name, content) in tables.Texts) text.Append("== ").AppendLine(name).AppendLine(content);
        return text.ToString();
    }

    /// <summary>Everything but the description's list of files.</summary>
    internal static string ShownWithoutList(SeasonTables tables) => Shown(tables with { Package = tables.Package with { Resources = [] } });
}
