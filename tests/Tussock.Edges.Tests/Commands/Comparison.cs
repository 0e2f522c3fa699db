using System.Globalization;
using System.Text.Json;

namespace Tussock.Edges.Tests.Commands;

/// <summary>Collects where numbers of a document differ from reference values, and how many were compared.</summary>
internal sealed class Comparison
{
    internal List<string> Differences { get; } = [];

    internal int Count { get; private set; }

    /// <summary>A number within a relative distance, or an absolute one; a reference of null or absent means that the document must have null.</summary>
    internal void Near(string what, double? found, double? expected, double relative, double absolute = 1e-12)
    {
        Count++;
        if (found is null && expected is null) return;
        if (found is { } x && expected is { } y && Math.Abs(x - y) <= Math.Max(absolute, relative * Math.Abs(y))) return;
        Differences.Add(string.Create(CultureInfo.InvariantCulture, $"{what}: found {found?.ToString("R", CultureInfo.InvariantCulture) ?? "null"}, expected {expected?.ToString("R", CultureInfo.InvariantCulture) ?? "null"}"));
    }

    /// <summary>The estimate's limits against a pair.</summary>
    internal void Limits(string what, JsonElement found, double? low, double? high, double relative)
    {
        Near(what + " low", found.Number("low"), low, relative);
        Near(what + " high", found.Number("high"), high, relative);
    }

    /// <summary>Two rows of numbers; null in the document stands for infinity, -1 in the reference.</summary>
    internal void Row(string what, JsonElement found, IReadOnlyList<double?> values, double relative, double absolute)
    {
        if (found.GetArrayLength() != values.Count) Differences.Add($"{what}: {found.GetArrayLength()} values, expected {values.Count}");
        for (var i = 0; i < Math.Min(values.Count, found.GetArrayLength()); i++) Near($"{what} {i}", found[i].ValueKind == JsonValueKind.Null ? -1 : found[i].GetDouble(), values[i], relative, absolute);
    }

    /// <summary>The numbers of a reference's row; one number may stand without brackets.</summary>
    internal static double?[] Numbers(JsonElement element) =>
        element.ValueKind == JsonValueKind.Array ? [.. element.EnumerateArray().Select(e => e.ValueKind == JsonValueKind.Number ? e.GetDouble() : (double?)null)] : [element.GetDouble()];
}

/// <summary>Values of a reference file, where a name may be absent or null.</summary>
internal static class ReferenceReading
{
    /// <summary>The element at a path; null where a name is absent or the value is null.</summary>
    internal static JsonElement? Find(this JsonElement element, string path)
    {
        var at = element;
        foreach (var name in path.Split('/'))
        {
            if (at.ValueKind == JsonValueKind.Array ? int.Parse(name, CultureInfo.InvariantCulture) >= at.GetArrayLength() : at.ValueKind != JsonValueKind.Object || !at.TryGetProperty(name, out _)) return null;
            at = at.ValueKind == JsonValueKind.Array ? at[int.Parse(name, CultureInfo.InvariantCulture)] : at.GetProperty(name);
        }

        return at.ValueKind == JsonValueKind.Null ? null : at;
    }

    /// <summary>The number at a path; null where there is none.</summary>
    internal static double? Value(this JsonElement element, string path) => element.Find(path) is { ValueKind: JsonValueKind.Number } number ? number.GetDouble() : null;
}
