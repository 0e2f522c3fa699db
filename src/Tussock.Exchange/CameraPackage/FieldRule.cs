using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Tussock.Records;

namespace Tussock.Exchange.CameraPackage;

/// <summary>What a column of a package may hold, as the standard's Table Schema has it.</summary>
internal sealed record FieldRule
{
    internal required string Name { get; init; }

    internal required string Type { get; init; }

    internal bool IsRequired { get; init; }

    internal bool IsUnique { get; init; }

    internal ImmutableArray<string> Tokens { get; init; } = [];

    internal Regex? Pattern { get; init; }

    internal double? Least { get; init; }

    internal double? Most { get; init; }

    /// <summary>What was expected instead of a text; null when it is one that the rule allows.</summary>
    internal Phrase? Expected(string text)
    {
        if (text.Length == 0) return IsRequired ? Phrase.Of("camera_package.expect_something") : null;
        if (!Tokens.IsEmpty && !Tokens.Contains(text)) return Phrase.Of("camera_package.expect_one_of", ("tokens", string.Join(", ", Tokens)));
        if (Pattern is not null && !Matches(text)) return Phrase.Of(Name == "filePath" ? "camera_package.expect_path" : "camera_package.expect_media_type");
        return Type switch
        {
            "datetime" => Moment(text) is null ? Phrase.Of("camera_package.expect_moment") : null,
            "boolean" => Bool(text) is null ? Phrase.Of("camera_package.expect_boolean") : null,
            "integer" => Cell.Whole(text) is { } whole ? InRange(whole) : Phrase.Of("camera_package.expect_integer"),
            "number" => Cell.Number(text) is { } number ? InRange(number) : Phrase.Of("camera_package.expect_number"),
            _ => null,
        };
    }

    /// <summary>An instant: ISO 8601 with T and with its distance from UTC; fractions of a second are let go.</summary>
    internal static DateTimeOffset? Moment(string text)
    {
        if (text.Length < 20 || text[10] != 'T') return null;
        string[] forms = ["yyyy-MM-ddTHH:mm:sszzz", "yyyy-MM-ddTHH:mm:ss.FFFFFFFzzz", "yyyy-MM-ddTHH:mm:ssZ", "yyyy-MM-ddTHH:mm:ss.FFFFFFFZ"];
        var plain = text is [.., '+' or '-', >= '0' and <= '9', >= '0' and <= '9', >= '0' and <= '9', >= '0' and <= '9'] ? text[..^2] + ":" + text[^2..] : text;
        return DateTimeOffset.TryParseExact(plain, forms, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at) && at.Year is >= 1990 and <= 2200 ? at : null;
    }

    /// <summary>true or false in the spellings of Table Schema.</summary>
    internal static bool? Bool(string text) => text switch { "true" or "True" or "TRUE" or "1" => true, "false" or "False" or "FALSE" or "0" => false, _ => null };

    /// <summary>The rules of one of the standard's tables.</summary>
    internal static ImmutableArray<FieldRule> Of(string table)
    {
        using var stream = typeof(FieldRule).Assembly.GetManifestResourceStream("camera-package/" + table + "-table-schema.json")!;
        using var json = JsonDocument.Parse(stream);
        return [.. json.RootElement.GetProperty("fields").EnumerateArray().Select(Of)];
    }

    private static FieldRule Of(JsonElement field)
    {
        var has = field.TryGetProperty("constraints", out var constraints);
        JsonElement? Constraint(string name) => has && constraints.TryGetProperty(name, out var value) ? value : null;
        return new FieldRule
        {
            Name = field.GetProperty("name").GetString()!,
            Type = field.GetProperty("type").GetString()!,
            IsRequired = Constraint("required")?.GetBoolean() ?? false,
            IsUnique = Constraint("unique")?.GetBoolean() ?? false,
            Tokens = Constraint("enum") is { } tokens ? [.. tokens.EnumerateArray().Select(t => t.GetString()!)] : [],
            Pattern = Constraint("pattern") is { } pattern ? new Regex(pattern.GetString()!, RegexOptions.CultureInvariant, TimeSpan.FromSeconds(1)) : null,
            Least = Constraint("minimum")?.GetDouble(),
            Most = Constraint("maximum")?.GetDouble(),
        };
    }

    private bool Matches(string text) => text.Length <= 2_000 && Pattern!.IsMatch(text);

    private Phrase? InRange(double x) =>
        x < Least || x > Most ? Most is { } most ? Phrase.Of("camera_package.expect_range", ("least", Least ?? 0), ("most", most)) : Phrase.Of("camera_package.expect_least", ("least", Least ?? 0)) : null;
}
