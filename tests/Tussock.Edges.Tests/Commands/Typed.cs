using System.Text.Json;
using Tussock.App.Commands;

namespace Tussock.Edges.Tests.Commands;

/// <summary>A command line as somebody types it, run by the real program inside the test: exit code and both outputs.</summary>
public sealed record Typed(int Exit, string Out, string Err)
{
    /// <summary>Time that documents of the tests name as their own, so that bytes can be compared.</summary>
    public const string At = "2024-07-01T12:00:00Z";

    /// <summary>Runs a command line.</summary>
    public static Typed Run(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var exit = Tree.Run(args, output, error);
        return new Typed(exit, output.ToString(), error.ToString());
    }

    /// <summary>Runs a command line that must do what it was asked.</summary>
    public static Typed Done(params string[] args)
    {
        var run = Run(args);
        return run.Exit == 0 ? run : throw new InvalidOperationException(string.Join(' ', args) + " ended with " + run.Exit + ": " + run.Err);
    }

    /// <summary>The document of <c>results --json --fates</c>, at a fixed time.</summary>
    public static string ResultsText(string data, params string[] more) => Done(["results", data, "--json", "--fates", "--at", At, .. more]).Out;

    /// <summary>The same, read.</summary>
    public static JsonElement Results(string data, params string[] more) => Json(ResultsText(data, more));

    /// <summary>The document of <c>inspect --json</c>: its findings.</summary>
    public static IReadOnlyList<JsonElement> Findings(string data, params string[] more) => [.. Json(Done(["inspect", data, "--json", .. more]).Out).GetProperty("findings").EnumerateArray()];

    /// <summary>A document, read.</summary>
    public static JsonElement Json(string text)
    {
        using var document = JsonDocument.Parse(text);
        return document.RootElement.Clone();
    }
}

/// <summary>Ways through a document of results.</summary>
public static class ResultsReading
{
    /// <summary>The element at a path like <c>survival/day28/estimate</c>.</summary>
    public static JsonElement At(this JsonElement element, string path) => path.Split('/').Aggregate(element, (e, name) => e.GetProperty(name));

    /// <summary>The number at a path; null when it is null.</summary>
    public static double? Number(this JsonElement element, string path) => element.At(path) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : null;

    /// <summary>The text at a path; null when it is null.</summary>
    public static string? Text(this JsonElement element, string path) => element.At(path).GetString();

    /// <summary>The group of a level; of several the one with the name.</summary>
    public static JsonElement Group(this JsonElement results, string level, string? name = null) =>
        results.GetProperty("groups").EnumerateArray().First(g => g.Text("level") == level && (name is null || g.Text("name") == name));

    /// <summary>The fate of one nest.</summary>
    public static JsonElement Fate(this JsonElement results, string transect, int nest) =>
        results.GetProperty("fates").EnumerateArray().Single(f => f.Text("transect") == transect && f.Number("nest") == nest);
}
