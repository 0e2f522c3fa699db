using System.Collections.Immutable;
using System.Text.Json;

namespace Tussock.Journal;

/// <summary>A change as phones write it: JSON with ids, fields, who and when.</summary>
/// <remarks>Whatever a later version adds is passed over; a kind or a field that this version does not know is kept.</remarks>
public static class ChangeJson
{
    private const int LongestName = 200;
    private const int LongestOffset = 14 * 60;

    /// <summary>The id of a change; null where it has none that can be read.</summary>
    public static Guid? IdOf(JsonElement change) => Id(change, "id");

    /// <summary>Reads one change.</summary>
    /// <param name="change">The JSON value.</param>
    /// <param name="cameAt">When it came in.</param>
    /// <returns>The change; null where it can't be read.</returns>
    public static Change? Read(JsonElement change, DateTimeOffset cameAt)
    {
        if (Id(change, "id") is not { } id || Id(change, "record") is not { } record || Id(change, "season") is not { } season || Id(change, "batch") is not { } batch) return null;
        if (Name(change, "device") is not { } device || Name(change, "kind") is not { } kind || Text(change, "by") is not { } by) return null;
        if (Whole(change, "device_seq") is not { } seq || seq < 1 || Op(Text(change, "op")) is not { } op || SaidAt(change) is not { } saidAt || Fields(change) is not { } fields) return null;
        return new Change
        {
            Id = id, Batch = batch, Device = device, DeviceSeq = seq, Season = season, Kind = kind, Record = record, Op = op, Fields = fields, By = by, SaidAt = saidAt, CameAt = cameAt,
            Source = Text(change, "source") ?? "", Format = Whole(change, "format") is { } format and > 0 and < int.MaxValue ? (int)format : 1,
        };
    }

    private static ImmutableArray<FieldChange>? Fields(JsonElement change)
    {
        if (!change.TryGetProperty("fields", out var list) || list.ValueKind != JsonValueKind.Object) return null;
        var fields = new Dictionary<string, FieldChange>(StringComparer.Ordinal);
        foreach (var field in list.EnumerateObject())
        {
            if (field.Value.ValueKind != JsonValueKind.Object || Text(field.Value, "value") is not { } value || Replaces(field.Value) is not { } replaces) return null;
            if (!fields.TryAdd(field.Name, new FieldChange(field.Name, value, replaces))) return null;
        }

        return [.. fields.Values];
    }

    private static ImmutableArray<Guid>? Replaces(JsonElement field)
    {
        if (!field.TryGetProperty("replaces", out var list)) return [];
        if (list.ValueKind != JsonValueKind.Array) return null;
        var ids = ImmutableArray.CreateBuilder<Guid>(list.GetArrayLength());
        foreach (var one in list.EnumerateArray())
        {
            if (one.ValueKind != JsonValueKind.String || !one.TryGetGuid(out var id)) return null;
            ids.Add(id);
        }

        return ids.MoveToImmutable();
    }

    /// <summary>What the device's clock said; a clock may be years off, but it must be a time that can be written down again.</summary>
    private static DateTimeOffset? SaidAt(JsonElement change)
    {
        if (!change.TryGetProperty("said_at", out var text) || text.ValueKind != JsonValueKind.String || !text.TryGetDateTimeOffset(out var at) || at.Year is < 1900 or > 9990) return null;
        var offset = Whole(change, "offset_min") ?? 0;
        return Math.Abs(offset) > LongestOffset ? null : DateTimeOffset.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds()).ToOffset(TimeSpan.FromMinutes(offset));
    }

    private static ChangeOp? Op(string? op) => op switch
    {
        "create" => ChangeOp.Create,
        "set" => ChangeOp.Set,
        "void" => ChangeOp.Void,
        _ => null,
    };

    private static Guid? Id(JsonElement of, string name) =>
        of.ValueKind == JsonValueKind.Object && of.TryGetProperty(name, out var text) && text.ValueKind == JsonValueKind.String && text.TryGetGuid(out var id) ? id : null;

    private static long? Whole(JsonElement of, string name) => of.TryGetProperty(name, out var number) && number.ValueKind == JsonValueKind.Number && number.TryGetInt64(out var whole) && whole != long.MinValue ? whole : null;

    private static string? Name(JsonElement of, string name) => Text(of, name) is { Length: > 0 and <= LongestName } text ? text : null;

    /// <summary>Text as it stands; null where there is none, or half of a character pair that no file can hold.</summary>
    private static string? Text(JsonElement of, string name)
    {
        if (!of.TryGetProperty(name, out var text) || text.ValueKind != JsonValueKind.String) return null;
        try
        {
            return text.GetString();
        }
        catch (InvalidOperationException)
        {
            // Half of a character pair: JSON can spell it, but no text can hold it.
            return null;
        }
    }
}
