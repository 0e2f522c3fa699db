using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Tussock.Evidence.Practice;

namespace Tussock.Fieldwork;

/// <summary>Cases from here as a phone takes them along, with views of their photos. A view is called by the hash of its own bytes, which no record of a nest holds.</summary>
/// <param name="Cases">The cases, each with its views.</param>
/// <param name="Views">The views, small JPEG pictures without anything that a camera wrote into them, by their SHA-256.</param>
public sealed record FieldCases(ImmutableArray<(LocalCase Case, ImmutableArray<string> Views)> Cases, ImmutableSortedDictionary<string, ReadOnlyMemory<byte>> Views)
{
    /// <summary>No cases.</summary>
    public static FieldCases None { get; } = new([], ImmutableSortedDictionary<string, ReadOnlyMemory<byte>>.Empty);

    /// <summary>Names the views: another set, other views.</summary>
    public string Set => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join(' ', Views.Keys.Order(StringComparer.Ordinal)))))[..16];

    /// <summary>The views as a document, which goes to phones beside the bundle.</summary>
    /// <param name="w">Writer inside an object.</param>
    public void WriteViews(Utf8JsonWriter w)
    {
        ArgumentNullException.ThrowIfNull(w);
        w.WriteString("set", Set);
        w.WriteStartObject("views");
        foreach (var (hash, bytes) in Views) w.WriteBase64String(hash, bytes.Span);
        w.WriteEndObject();
    }
}
