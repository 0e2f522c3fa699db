using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Tussock.Exchange.OldSheets;

/// <summary>What somebody said of a sheet: what its columns are and what its codes mean. Kept for the sheets of other years with the same headings.</summary>
public sealed record SheetAnswers
{
    private static readonly JsonSerializerOptions Json = new() { Converters = { new JsonStringEnumConverter<SheetMeaning>() }, WriteIndented = true };

    /// <summary>The headings that the answers are for.</summary>
    public required string Signature { get; init; }

    /// <summary>What each column is, left to right.</summary>
    public required ImmutableArray<SheetMeaning> Columns { get; init; }

    /// <summary>The finding of each code, or <c>not_set</c>, or <c>no_visit</c>; codes in capitals.</summary>
    public required ImmutableSortedDictionary<string, string> Codes { get; init; }

    /// <summary>Name of the property.</summary>
    public string Property { get; init; } = "";

    /// <summary>The pasture of rows that name none.</summary>
    public string Pasture { get; init; } = "";

    /// <summary>What may be said of a code: a finding, not set, no visit.</summary>
    public static ImmutableArray<string> Choices => SheetGuess.Findings;

    /// <summary>First answers to a sheet: what is probable.</summary>
    public static SheetAnswers Guessed(OldSheet sheet)
    {
        var columns = sheet.Columns.Select(c => c.Guess).ToImmutableArray();
        return new() { Signature = sheet.Signature, Columns = columns, Codes = CodesOf(sheet, columns).ToImmutableSortedDictionary(c => c, SheetGuess.Finding, StringComparer.Ordinal) };
    }

    /// <summary>The codes in the columns of findings, in capitals, the most frequent first.</summary>
    public static ImmutableArray<string> CodesOf(OldSheet sheet, ImmutableArray<SheetMeaning> columns)
    {
        var finding = Enumerable.Range(0, columns.Length).Where(i => columns[i] is SheetMeaning.FirstCheck or SheetMeaning.SecondCheck).ToArray();
        return [.. sheet.Rows.SelectMany(r => finding.Select(i => r.Cells[i].ToUpperInvariant())).Where(c => c.Length > 0).GroupBy(c => c, StringComparer.Ordinal).OrderByDescending(g => g.Count()).ThenBy(g => g.Key, StringComparer.Ordinal).Select(g => g.Key)];
    }

    /// <summary>Whether these answers leave no question about a sheet.</summary>
    public bool Fit(OldSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        return Signature == sheet.Signature && Columns.Length == sheet.Columns.Length && CodesOf(sheet, Columns).All(c => Codes.GetValueOrDefault(c, "").Length > 0);
    }

    /// <summary>The answers as text, to be kept.</summary>
    public string ToText() => JsonSerializer.Serialize(this, Json);

    /// <summary>Answers that were kept; null when the text holds none.</summary>
    public static SheetAnswers? Read(string text)
    {
        try
        {
            return JsonSerializer.Deserialize<SheetAnswers>(text, Json) is { Columns.IsDefault: false, Codes: not null, Signature: not null } answers ? answers : null;
        }
        catch (JsonException)
        {
            // Somebody else's file: then there are no answers, and the questions are asked.
            return null;
        }
    }
}
