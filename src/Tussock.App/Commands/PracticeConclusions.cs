using System.Globalization;
using System.Text.Json;
using Tussock.Planning.Practice;
using Tussock.Verdicts;

namespace Tussock.App.Commands;

/// <summary>What somebody concluded about a season for practice: a small file in the season's own folder, and tokens on the command line.</summary>
internal sealed record PracticeConclusions(string Code, Conclusion Survival, Conclusion? Density)
{
    /// <summary>Name of the file.</summary>
    internal const string File = "practice-conclusion.json";

    private const string Contract = "practice/1", Likely = "likely", Unlikely = "unlikely", NotSettled = "not_settled";
    private static readonly JsonWriterOptions Indented = new() { Indented = true, NewLine = "\n" };

    /// <summary>The words for a side, on the command line and in the file.</summary>
    internal static string[] Sides { get; } = [Likely, Unlikely, NotSettled];

    internal static CallKind SideOf(string token) => token switch { Likely => CallKind.Likely, Unlikely => CallKind.Unlikely, _ => CallKind.None };

    internal static string TokenOf(CallKind side) => side switch { CallKind.Likely => Likely, CallKind.Unlikely => Unlikely, _ => NotSettled };

    /// <summary>The file of a folder.</summary>
    internal static string In(string folder) => Path.Combine(folder, File);

    /// <summary>What was concluded in a folder; nothing where nothing was; a reason where it can't be read.</summary>
    internal static Answer<PracticeConclusions?> Read(string folder)
    {
        if (!System.IO.File.Exists(In(folder))) return (PracticeConclusions?)null;
        try
        {
            using var read = JsonDocument.Parse(System.IO.File.ReadAllBytes(In(folder)));
            var (root, density) = (read.RootElement, read.RootElement.GetProperty("density"));
            var found = new PracticeConclusions(root.GetProperty("code").GetString() ?? "", One(root.GetProperty("survival")), density.ValueKind == JsonValueKind.Null ? null : One(density));
            if (found.Survival.Wrong() is null && found.Density?.Wrong() is null) return found;
        }
        catch (Exception wrong) when (wrong is JsonException or KeyNotFoundException or InvalidOperationException or FormatException)
        {
            // Said below, as for a file that is readable and makes no sense.
        }

        return NoAnswer.Because("student.wrong.answers", ("file", In(folder)));
    }

    /// <summary>The same as a word that a browser keeps: code, then a letter and a percent for each benchmark.</summary>
    internal string Word => Code + "." + WordOf(Survival) + (Density is null ? "" : "." + WordOf(Density));

    /// <summary>What such a word means; null where it means nothing.</summary>
    internal static PracticeConclusions? OfWord(string word)
    {
        var parts = word.Split('.');
        if (parts.Length is not (2 or 3) || PracticeSeason.OfCode(parts[0]) is not { } season || OfLetters(parts[1]) is not { } survival) return null;
        return parts.Length == 2 ? new PracticeConclusions(season.Code, survival, null) : OfLetters(parts[2]) is { } density && season.Design.HasBelts ? new PracticeConclusions(season.Code, survival, density) : null;
    }

    internal void Write(string folder)
    {
        using var stream = System.IO.File.Create(In(folder));
        using var w = new Utf8JsonWriter(stream, Indented);
        w.WriteStartObject();
        w.WriteString("contract", Contract);
        w.WriteString("code", Code);
        One(w, "survival", Survival);
        One(w, "density", Density);
        w.WriteEndObject();
    }

    private static string WordOf(Conclusion said) => TokenOf(said.Side)[..1] + said.Percent.ToString(CultureInfo.InvariantCulture);

    private static Conclusion? OfLetters(string text) => text.Length > 1 && Sides.FirstOrDefault(s => s[0] == text[0]) is { } side && int.TryParse(text[1..], NumberStyles.None, CultureInfo.InvariantCulture, out var percent)
        && new Conclusion(SideOf(side), percent) is var said && said.Wrong() is null ? said : null;

    private static Conclusion One(JsonElement e) => Sides.Contains(e.GetProperty("side").GetString())
        ? new Conclusion(SideOf(e.GetProperty("side").GetString()!), e.GetProperty("percent").GetInt32()) : throw new FormatException("No side");

    private static void One(Utf8JsonWriter w, string name, Conclusion? said)
    {
        if (said is null)
        {
            w.WriteNull(name);
            return;
        }

        w.WriteStartObject(name);
        w.WriteString("side", TokenOf(said.Side));
        w.WriteNumber("percent", said.Percent);
        w.WriteEndObject();
    }
}
