using System.Buffers;
using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Tussock.Words;

namespace Tussock.Results;

/// <summary>The numbers behind a chapter of the results, whole, as one table: what somebody takes away to draw it anew.</summary>
/// <param name="Columns">Names of the columns: the keys of the results document, put together with an underscore.</param>
/// <param name="Rows">Cells, as many as columns; an empty cell where there is no number.</param>
public sealed record ChapterTable(ImmutableArray<string> Columns, ImmutableArray<ImmutableArray<string>> Rows)
{
    /// <summary>Which part of the results document a chapter's numbers are.</summary>
    private static readonly ImmutableDictionary<string, string> Parts = new (string Chapters, string Part)[]
    {
        ("verdicts", "verdicts"), ("survival two_numbers yardstick daily causes chance", "groups"), ("curve", "curve"), ("density", "density"), ("segments", "segments"), ("comparison", "cover_comparison"), ("parity", "parity_density"),
        ("runs", "runs"), ("map time left_out data", "fates"), ("culprits", "culprits"), ("findings", "findings"),
    }.SelectMany(p => p.Chapters.Split(' '), (p, chapter) => KeyValuePair.Create(chapter, p.Part)).ToImmutableDictionary();

    /// <summary>Whether a chapter has numbers to take away.</summary>
    /// <param name="chapter">Short name of the chapter.</param>
    public static bool Has(string chapter) => Parts.ContainsKey(chapter);

    /// <summary>The table of a chapter; null when it has none. Numbers as exact as the results document has them.</summary>
    /// <param name="chapter">Short name of the chapter.</param>
    /// <param name="numbers">The answer.</param>
    /// <param name="words">Language of the sentences.</param>
    public static ChapterTable? Of(string chapter, ReportNumbers numbers, Catalogue words)
    {
        ArgumentNullException.ThrowIfNull(numbers);
        if (!Parts.TryGetValue(chapter, out var part)) return null;
        if (part == "segments") return Segments(numbers);
        if (part == "findings") return Findings(numbers, words);
        var bytes = new ArrayBufferWriter<byte>();
        ResultsDocument.Write(numbers.Results, new MadeWith("", 0, ""), withFates: part == "fates", words, bytes);
        using var document = JsonDocument.Parse(bytes.WrittenMemory);
        return part switch
        {
            "curve" => Flat(document.RootElement.GetProperty("groups").EnumerateArray().SelectMany(Pieces)),
            "groups" => Flat(document.RootElement.GetProperty(part).EnumerateArray().Select(g => Cells(g, "curve"))),
            "culprits" => Flat(document.RootElement.GetProperty(part).GetProperty("nests").EnumerateArray().Select(n => Cells(n))),
            "parity_density" => Flat([Cells(document.RootElement.GetProperty(part))]),
            _ => Flat(document.RootElement.GetProperty(part).EnumerateArray().Select(r => Cells(r))),
        };
    }

    private static ChapterTable Segments(ReportNumbers numbers) => new(
        ["property", "pasture", "transect", "segment", "clumps", "area_m2", "per_acre"],
        [.. numbers.Segments.Select(s => (Segment: s, Transect: numbers.Results.Season.Transects[s.Transect])).Select(s => (ImmutableArray<string>)[s.Transect.Pasture.Property, s.Transect.Pasture.Name, s.Transect.Name, Text(s.Segment.Segment), s.Segment.IsCounted ? Text(s.Segment.Clumps) : "", s.Segment.IsCounted ? Text(s.Segment.AreaM2) : "", s.Segment.PerAcre is { } density ? Text(density) : ""])]);

    private static ChapterTable Findings(ReportNumbers numbers, Catalogue words) => new(
        ["severity", "rule", "place", "what", "to_do"],
        [.. numbers.Findings.Select(f => (ImmutableArray<string>)[f.Severity.ToString(), f.Rule, f.Place.ToString(), words.Say(f.What), words.Say(f.ToDo)])]);

    /// <summary>One row a flat piece of a group's curve.</summary>
    private static IEnumerable<List<(string, string)>> Pieces(JsonElement group)
    {
        if (group.GetProperty("curve") is not { ValueKind: JsonValueKind.Object } curve) yield break;
        var columns = curve.EnumerateObject().Where(p => p.Value.ValueKind == JsonValueKind.Array).Select(p => (p.Name, Cells: p.Value.EnumerateArray().ToArray())).ToArray();
        for (var i = 0; i < columns.Max(c => c.Cells.Length); i++)
        {
            List<(string, string)> row = [];
            foreach (var name in (string[])["level", "property", "pasture", "cover", "name"]) if (group.TryGetProperty(name, out var value)) row.Add((name, Text(value)));
            row.AddRange(columns.Select(c => (c.Name, i < c.Cells.Length ? Text(c.Cells[i]) : "")));
            yield return row;
        }
    }

    private static List<(string, string)> Cells(JsonElement element, string without = "")
    {
        List<(string, string)> cells = [];
        Add(element, "");
        return cells;

        void Add(JsonElement of, string name)
        {
            if (of.ValueKind == JsonValueKind.Object) foreach (var member in of.EnumerateObject().Where(m => m.Name != without)) Add(member.Value, name.Length == 0 ? member.Name : name + "_" + member.Name);
            else if (of.ValueKind == JsonValueKind.Array) cells.Add((name, string.Join("; ", of.EnumerateArray().Select(Text))));
            else cells.Add((name, Text(of)));
        }
    }

    /// <summary>Rows under the columns of them all, in the order in which they first come.</summary>
    private static ChapterTable Flat(IEnumerable<List<(string Name, string Text)>> rows)
    {
        var all = rows.ToArray();
        var columns = all.SelectMany(r => r.Select(c => c.Name)).Distinct(StringComparer.Ordinal).ToImmutableArray();
        var at = columns.Select((name, i) => (name, i)).ToDictionary(c => c.name, c => c.i, StringComparer.Ordinal);
        return new(columns, [.. all.Select(row =>
        {
            var cells = new string[columns.Length];
            Array.Fill(cells, "");
            foreach (var (name, text) in row) cells[at[name]] = text;
            return (ImmutableArray<string>)[.. cells];
        })]);
    }

    private static string Text(JsonElement value) => value.ValueKind switch { JsonValueKind.String => value.GetString()!, JsonValueKind.Null => "", _ => value.GetRawText() };

    private static string Text(double number) => number.ToString("R", CultureInfo.InvariantCulture);
}
