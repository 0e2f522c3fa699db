using System.Globalization;
using System.Text;
using System.Text.Json;
using Tussock.Journal;

namespace Tussock.Browser.Tests.Field.Faults;

/// <summary>What stands in the records, a line a field, in a fixed order: as a phone sees it, and as the rule of the fold has it, written once more here.</summary>
internal static class SeenRows
{
    private static readonly string[] Kinds = ["nests", "visits", "remains", "media"];

    /// <param name="rows">[[kind, id, [[field, value, [heads]]]]] as JSON.</param>
    internal static string Of(string rows)
    {
        using var json = JsonDocument.Parse(rows);
        return Text(json.RootElement.EnumerateArray().Where(r => Kinds.Contains(r[0].GetString())).SelectMany(r => r[2].EnumerateArray().Select(f =>
            (Guid.Parse(r[1].GetString()!), f[0].GetString()!, f[1].GetString()!, f[2].EnumerateArray().Select(h => Guid.Parse(h.GetString()!)).ToArray()))));
    }

    /// <summary>A field's heads are its changes that no other change names as replaced; the greatest id is shown; void records are out.</summary>
    internal static string Folded(IEnumerable<Change> journal)
    {
        var fields = journal.Where(c => Kinds.Contains(c.Kind)).SelectMany(c => c.Fields.Select(f => (c.Record, f.Name, f.Value, f.Replaces, c.Id)))
            .GroupBy(f => (f.Record, f.Name))
            .Select(g => (g.Key.Record, g.Key.Name, Heads: g.Where(f => !g.Any(other => other.Replaces.Contains(f.Id))).OrderBy(f => f.Id.ToString(), StringComparer.Ordinal).ToArray()))
            .ToArray();
        var isVoid = fields.Where(f => f.Name == FieldName.Void && f.Heads[^1].Value == "yes").Select(f => f.Record).ToHashSet();
        return Text(fields.Where(f => !isVoid.Contains(f.Record)).Select(f => (f.Record, f.Name, f.Heads[^1].Value, f.Heads.Select(h => h.Id).ToArray())));
    }

    private static string Text(IEnumerable<(Guid Record, string Field, string Value, Guid[] Heads)> fields)
    {
        var text = new StringBuilder();
        foreach (var (record, field, value, heads) in fields.Where(f => !f.Field.StartsWith('#')).OrderBy(f => f.Record).ThenBy(f => f.Field, StringComparer.Ordinal))
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"{record} {field} = {value} by {string.Join(' ', heads.Order())}");
        }

        return text.ToString();
    }
}
