using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Tussock.Exchange.Spreadsheet;
using Tussock.Records;
using Tussock.Words;
using JsonProperty = Tussock.Records.JsonProperty;

namespace Tussock.Exchange.Workbook;

/// <summary>The description of a season as a sheet: a row a setting. What plain words can't say without loss stands there as JSON, marked so.</summary>
internal static class SettingsSheet
{
    /// <summary>Name of the sheet.</summary>
    internal const string Name = "season";

    private const string Setting = "setting", Value = "value", Title = "title", OfPackage = "package.", OfSeason = "season.", AsJson = "json:";

    /// <summary>Settings that a template offers, in order.</summary>
    private static readonly string[] Offered =
        ["name", "year", "species", "time_zone", "trial_days", "check_days", "window_days", "cover_classes", "loss_rule", "benchmarks", "judge", "egg_kind", "rain_since_october_mm", "rain_normal_mm", "comment"];

    private static readonly string[] Numbers = ["trial_days", "window_days", "rain_since_october_mm", "rain_normal_mm"];

    private static readonly JsonWriterOptions Plainly = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The sheet of a description.</summary>
    internal static WrittenSheet Write(SeasonPackage package, Catalogue words)
    {
        var rows = new List<ImmutableArray<WrittenCell>>();
        if (!package.Package.Any(p => p.Name == Title)) Add(Title, "");
        foreach (var property in package.Package) Add(property.Name == Title ? Title : OfPackage + property.Name, property.Json);
        var offered = package.Season.Select(p => p.Name).ToHashSet(StringComparer.Ordinal);
        foreach (var name in Offered.Take(1).Where(n => !offered.Contains(n))) Add(name, "");
        foreach (var property in package.Season) Add(IsPlain(property.Name) ? property.Name : OfSeason + property.Name, property.Json);
        foreach (var name in Offered.Skip(1).Where(n => !offered.Contains(n))) Add(name, "");
        var value = new WrittenColumn(Value, 60, CellLook.Text) { Note = words.Say("workbook.setting_value") };
        return new WrittenSheet(Name, [new WrittenColumn(Setting, 24, CellLook.Text), value, new WrittenColumn(SeasonColumns.Hint(words, "workbook.hint_meaning"), 80, CellLook.Hint) { IsHint = true }], rows) { Frozen = 1 };

        void Add(string name, string json)
        {
            var meaning = words.Has("workbook.setting." + name) ? words.Say("workbook.setting." + name) : "";
            rows.Add([new WrittenCell(name, null, CellLook.Text), json.Length == 0 ? default : Cell(name, json), new WrittenCell(meaning, null, CellLook.Hint)]);
        }
    }

    /// <summary>The JSON of a setting as somebody wrote it; null when it says JSON and is none.</summary>
    /// <param name="name">Name of the setting.</param>
    /// <param name="text">What stands in its cell.</param>
    /// <param name="shape">What the cell is.</param>
    internal static string? Json(string name, string text, CellShape shape)
    {
        if (text.StartsWith(AsJson, StringComparison.Ordinal)) return Normal(text[AsJson.Length..]);
        if (shape is CellShape.Truth) return text;
        var token = text.Trim();
        if (shape is CellShape.Number || (Numbers.Contains(name) && Records.Cell.Number(token) is not null && Normal(token) is not null)) return token;
        return name switch
        {
            "check_days" when Days(token) is { } days => "[" + string.Join(',', days.Select(d => d.ToString(CultureInfo.InvariantCulture))) + "]",
            "cover_classes" => Classes(token),
            "benchmarks" when Benchmarks(token) is { } benchmarks => benchmarks,
            _ => Quoted(text),
        };
    }

    /// <summary>The description of the rows, and what is wrong with them.</summary>
    internal static (ImmutableArray<JsonProperty> Package, ImmutableArray<JsonProperty> Season) Read(IReadOnlyList<(string Name, GridCell Value)> rows, Action<int> wrong)
    {
        var package = ImmutableArray.CreateBuilder<JsonProperty>();
        var season = ImmutableArray.CreateBuilder<JsonProperty>();
        for (var i = 0; i < rows.Count; i++)
        {
            var (written, value) = rows[i];
            var isOfPackage = written.Equals(Title, StringComparison.OrdinalIgnoreCase) || written.StartsWith(OfPackage, StringComparison.Ordinal);
            var token = Records.Cell.Token(written);
            var name = token == Title ? Title : isOfPackage ? written[OfPackage.Length..] : written.StartsWith(OfSeason, StringComparison.Ordinal) ? written[OfSeason.Length..] : Offered.Contains(token) ? token : written;
            if (Json(name, value.Text, value.Shape) is not { } json) wrong(i);
            else (isOfPackage ? package : season).Add(new JsonProperty(name, json));
        }

        return (package.ToImmutable(), season.ToImmutable());
    }

    private static bool IsPlain(string name) => name != Title && !name.StartsWith(OfPackage, StringComparison.Ordinal) && !name.StartsWith(OfSeason, StringComparison.Ordinal)
        && name.Trim() == name && name.Length > 0 && (Offered.Contains(name) || !Offered.Contains(Records.Cell.Token(name))) && Records.Cell.Token(name) != Title;

    private static WrittenCell Cell(string name, string json)
    {
        var normal = Normal(json) ?? json;
        using var parsed = JsonDocument.Parse(json);
        var root = parsed.RootElement;
        if (root.ValueKind == JsonValueKind.Number && SheetsReader.Number(root.GetDouble()) == normal) return new WrittenCell("", root.GetDouble(), CellLook.Plain);
        var plain = root.ValueKind switch
        {
            JsonValueKind.String => root.GetString()!,
            JsonValueKind.Array when name == "check_days" => string.Join(", ", root.EnumerateArray().Select(d => d.GetRawText())),
            JsonValueKind.Array when name == "cover_classes" => string.Join(", ", root.EnumerateArray().Select(ClassWords)),
            JsonValueKind.Object when name == "benchmarks" => string.Join(", ", root.EnumerateObject().Select(p => p.Name + " " + p.Value.GetRawText())),
            _ => "",
        };
        return new WrittenCell(plain.Length > 0 && Json(name, plain, CellShape.Text) is { } again && Normal(again) == normal ? plain : AsJson + normal, null, CellLook.Text);
    }

    private static string ClassWords(JsonElement one) => one.ValueKind == JsonValueKind.String ? one.GetString()!
        : one.ValueKind == JsonValueKind.Object && one.TryGetProperty("name", out var name) && one.TryGetProperty("role", out var role) ? name + " (" + role + ")" : "";

    private static ImmutableArray<int>? Days(string text)
    {
        var days = text.Split([',', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(Records.Cell.Whole).ToArray();
        return days.Length == 0 || Array.Exists(days, d => d is null) ? null : [.. days.Select(d => d!.Value)];
    }

    private static string Classes(string text) => "[" + string.Join(',', text.Split([',', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(one =>
        one.EndsWith(')') && one.LastIndexOf(" (", StringComparison.Ordinal) is var cut and > 0
            ? "{\"name\":" + Quoted(one[..cut].Trim()) + ",\"role\":" + Quoted(one[(cut + 2)..^1].Trim()) + "}" : Quoted(one))) + "]";

    private static string? Benchmarks(string text)
    {
        var parts = new List<string>();
        foreach (var one in text.Split([',', ';'], StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            var cut = one.LastIndexOfAny([' ', '=', ':']);
            if (cut < 0 || Normal(one[(cut + 1)..]) is not { } number || Records.Cell.Number(number) is null) return null;
            parts.Add(Quoted(one[..cut].TrimEnd(' ', '=', ':')) + ":" + number);
        }

        return parts.Count == 0 ? null : "{" + string.Join(',', parts) + "}";
    }

    private static string Quoted(string text) => "\"" + JavaScriptEncoder.UnsafeRelaxedJsonEscaping.Encode(text) + "\"";

    /// <summary>JSON in one spelling; null when it is none.</summary>
    private static string? Normal(string json)
    {
        try
        {
            using var parsed = JsonDocument.Parse(json);
            var bytes = new System.Buffers.ArrayBufferWriter<byte>();
            using (var writer = new Utf8JsonWriter(bytes, Plainly)) parsed.RootElement.WriteTo(writer);
            return Encoding.UTF8.GetString(bytes.WrittenSpan);
        }
        catch (JsonException)
        {
            // What somebody typed is no JSON: the caller has the sentence for it.
            return null;
        }
    }
}
