using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Http;
using Tussock.Fieldwork;
using Tussock.Journal;
using Tussock.Store;
using Tussock.Store.Media;
using Tussock.Words;

namespace Tussock.App.Serving;

/// <summary>What phones ask of the desk: the bundle, sending changes, photos, pairing. Contract: <c>docs/field-bundle.md</c>.</summary>
internal sealed class FieldApi(ServedSeasons seasons, MediaStore media, PairingCode code)
{
    private const int LongestName = 80;
    private static readonly JsonDocumentOptions Shallow = new() { MaxDepth = 16 };
    private readonly ServedSeason served = seasons.Usual;
    private readonly Lock writing = new();
    private readonly PhoneCases cases = new(seasons.Usual.File, media);
    private readonly ConcurrentDictionary<Guid, BundleShelf> bundles = new();

    /// <summary>Answers with the bundle.</summary>
    internal async Task BundleAsync(HttpContext context)
    {
        var (_, season) = Phone(context);
        // Records that wait on a phone of another season are taken in all the same; what it shows is never exchanged for another season's.
        if (season is null) throw new RefusedRequestException(StatusCodes.Status403Forbidden, "serve.other_season");
        var bundle = bundles.GetOrAdd(season.Id, _ => new BundleShelf(served.File, season.Name, cases, served.Clock)).Now();
        context.Response.Headers.ETag = bundle.ETag;
        if (context.Request.Headers.IfNoneMatch == bundle.ETag)
        {
            context.Response.StatusCode = StatusCodes.Status304NotModified;
            return;
        }

        var isPacked = FieldPages.TakesBrotli(context.Request);
        if (isPacked) context.Response.Headers.ContentEncoding = "br";
        await Answers.BytesAsync(context, StatusCodes.Status200OK, "application/json; charset=utf-8", isPacked ? bundle.Packed : bundle.Bytes);
    }

    /// <summary>Answers with the views of cases from here: nothing but what a lead let be shown.</summary>
    internal Task PracticeAsync(HttpContext context)
    {
        if (Phone(context).Season is null) throw new RefusedRequestException(StatusCodes.Status403Forbidden, "serve.other_season");
        return Answers.JsonAsync(context, StatusCodes.Status200OK, cases.Now().WriteViews);
    }

    /// <summary>Takes in a message of changes: when it answers, they are on disk.</summary>
    internal async Task SyncAsync(HttpContext context)
    {
        var (phone, _) = Phone(context);
        using var message = await JsonAsync(context);
        var now = served.Clock.GetUtcNow();
        if (message.RootElement.ValueKind != JsonValueKind.Object || !message.RootElement.TryGetProperty("changes", out var list) || list.ValueKind != JsonValueKind.Array) throw new RefusedRequestException(StatusCodes.Status400BadRequest, "serve.no_changes");
        if (list.GetArrayLength() > FieldBundle.ChangesAMessage) throw new RefusedRequestException(StatusCodes.Status413PayloadTooLarge, "serve.too_many");
        var (changes, unreadable) = ReadChanges(list, now);
        Received received;
        lock (writing) received = served.File.Receive(changes, now, phone.Device);

        var seen = message.RootElement.TryGetProperty("position", out var p) && p.ValueKind == JsonValueKind.Number && p.TryGetInt64(out var position) ? position : 0;
        if (received.New > 0) served.Say(Phrase.Of("serve.came", ("phone", phone.Name), ("count", received.New)));
        await Answers.JsonAsync(context, StatusCodes.Status200OK, w => WriteReceived(w, received, unreadable, seen));
    }

    /// <summary>Lets a phone in that has the code.</summary>
    internal async Task PairAsync(HttpContext context)
    {
        using var message = await JsonAsync(context);
        var root = message.RootElement;
        if (root.ValueKind != JsonValueKind.Object || Text(root, "code") is not { } given || Text(root, "name") is not { } name) throw new RefusedRequestException(StatusCodes.Status400BadRequest, "serve.no_code");
        // Only an app that can ask which one says that it has not been chosen; an older one gets the newest.
        var all = seasons.All;
        var asked = Text(root, "season");
        var chosen = all is [var only] || asked is null ? all[0] : all.FirstOrDefault(s => s.Id.ToString() == asked);
        var isCoded = given.Length > 0 || !served.IsLoopbackOnly || context.Connection.RemoteIpAddress is not { } from || !System.Net.IPAddress.IsLoopback(from);
        if (isCoded) CheckCode(given, context.Connection.RemoteIpAddress, isUsed: chosen is not null);
        if (chosen is null)
        {
            // Names of seasons are for those alone who have the code.
            await Answers.JsonAsync(context, StatusCodes.Status200OK, w => WriteChoices(w, all));
            return;
        }

        var now = served.Clock.GetUtcNow();
        var device = Guid.CreateVersion7(now);
        var key = PhoneKey.Make(device, chosen.Id);
        served.File.Pair(device, PlainName(name), PhoneKey.Hash(key), now);
        served.Say(Phrase.Of("serve.paired", ("phone", PlainName(name))));
        await Answers.JsonAsync(context, StatusCodes.Status200OK, w =>
        {
            w.WriteString("device", device);
            w.WriteString("key", key);
            w.WriteString("season", chosen.Id);
        });
    }

    /// <summary>Says how much of a photo is there.</summary>
    internal async Task MediaHeadAsync(HttpContext context, string hash)
    {
        Phone(context);
        context.Response.StatusCode = StatusCodes.Status404NotFound;
        if (await media.FindAsync(hash, context.RequestAborted) is not { } found) return;
        context.Response.StatusCode = StatusCodes.Status200OK;
        Offsets(context, found.Offset, found.Length);
    }

    /// <summary>Takes a piece of a photo.</summary>
    internal async Task MediaPatchAsync(HttpContext context, string hash)
    {
        Phone(context);
        CheckType(context, "application/octet-stream");
        if (Header(context, "Upload-Offset") is not { } offset || Header(context, "Upload-Length") is not { } length || offset > length || length == 0) throw new RefusedRequestException(StatusCodes.Status400BadRequest, "serve.no_offset");
        if (length > FieldBundle.MediaBytes || context.Request.ContentLength > length - offset) throw new RefusedRequestException(StatusCodes.Status413PayloadTooLarge, "serve.too_big");
        var (end, there) = await media.TakeAsync(hash, offset, length, context.Request.Body, context.RequestAborted);
        if (end == MediaEnd.NoRoom) throw new RefusedRequestException(StatusCodes.Status503ServiceUnavailable, "serve.no_room");
        Offsets(context, there, length);
        if (end == MediaEnd.OtherOffset) await Answers.WhyAsync(context, StatusCodes.Status409Conflict, served.Words.Say("serve.other_offset"));
        else if (end == MediaEnd.WrongHash) await Answers.WhyAsync(context, StatusCodes.Status422UnprocessableEntity, served.Words.Say("serve.wrong_hash"));
        else context.Response.StatusCode = StatusCodes.Status204NoContent;
    }

    internal static (List<Change> Changes, List<Guid?> Unreadable) ReadChanges(JsonElement list, DateTimeOffset now)
    {
        var (changes, unreadable) = (new List<Change>(), new List<Guid?>());
        foreach (var one in list.EnumerateArray())
        {
            if (ChangeJson.Read(one, now) is { } change) changes.Add(change);
            else unreadable.Add(ChangeJson.IdOf(one));
        }

        return (changes, unreadable);
    }

    private void WriteReceived(Utf8JsonWriter w, Received received, List<Guid?> unreadable, long seen)
    {
        w.WriteNumber("position", received.Position);
        w.WriteStartArray("accepted");
        foreach (var id in received.Accepted) w.WriteStringValue(id);
        w.WriteEndArray();
        w.WriteStartArray("refused");
        foreach (var refused in received.Refused.Concat(unreadable.Select(id => new RefusedChange(id, Phrase.Of("field.refused.unreadable"), Keep: false))))
        {
            w.WriteStartObject();
            if (refused.Id is { } id) w.WriteString("id", id);
            else w.WriteNull("id");
            w.WriteString("why", served.Words.Say(refused.Why));
            w.WriteBoolean("keep", refused.Keep);
            w.WriteEndObject();
        }

        w.WriteEndArray();
        w.WriteBoolean("bundle_is_newer", received.Position > seen);
    }

    private static void WriteChoices(Utf8JsonWriter w, ImmutableArray<SeasonEntry> all)
    {
        w.WriteStartArray("choose");
        foreach (var season in all)
        {
            w.WriteStartObject();
            w.WriteString("id", season.Id);
            w.WriteString("name", season.Name);
            w.WriteEndObject();
        }

        w.WriteEndArray();
    }

    /// <summary>The paired phone that asks, and its season; none where that is not served. A phone that was paired before there were several goes with the newest.</summary>
    private (PairedPhone Phone, SeasonEntry? Season) Phone(HttpContext context)
    {
        const string Scheme = "Bearer ";
        var header = context.Request.Headers.Authorization.ToString();
        var key = header.StartsWith(Scheme, StringComparison.OrdinalIgnoreCase) ? header[Scheme.Length..].Trim() : "";
        var read = PhoneKey.Read(key);
        var phone = read is { } paired ? served.File.Phone(paired.Device, PhoneKey.Hash(key)) : null;
        if (phone is null) throw new RefusedRequestException(StatusCodes.Status401Unauthorized, "serve.not_paired");
        if (phone.ShutOutAt is not null) throw new RefusedRequestException(StatusCodes.Status403Forbidden, "serve.shut_out");
        var all = seasons.All;
        return (phone, read!.Value.Season is { } season ? all.FirstOrDefault(s => s.Id == season) : all[0]);
    }

    private void CheckCode(string given, System.Net.IPAddress? from, bool isUsed)
    {
        var end = code.Try(given, from, isUsed);
        if (end == Pairing.Closed) throw new RefusedRequestException(StatusCodes.Status429TooManyRequests, "serve.code_closed");
        if (end == Pairing.Wrong) throw new RefusedRequestException(StatusCodes.Status403Forbidden, "serve.code_wrong");
    }

    private static async Task<JsonDocument> JsonAsync(HttpContext context)
    {
        CheckType(context, "application/json");
        if (context.Request.ContentLength > FieldBundle.MessageBytes) throw new RefusedRequestException(StatusCodes.Status413PayloadTooLarge, "serve.too_big");
        using var body = new MemoryStream();
        var buffer = new byte[1 << 14];
        int count;
        while ((count = await context.Request.Body.ReadAsync(buffer, context.RequestAborted)) > 0)
        {
            if (body.Length + count > FieldBundle.MessageBytes) throw new RefusedRequestException(StatusCodes.Status413PayloadTooLarge, "serve.too_big");
            body.Write(buffer, 0, count);
        }

        try
        {
            return JsonDocument.Parse(body.ToArray(), Shallow);
        }
        catch (JsonException)
        {
            throw new RefusedRequestException(StatusCodes.Status400BadRequest, "serve.no_json");
        }
    }

    private static void CheckType(HttpContext context, string type)
    {
        var given = (context.Request.ContentType ?? "").Split(';')[0].Trim();
        if (!given.Equals(type, StringComparison.OrdinalIgnoreCase)) throw new RefusedRequestException(StatusCodes.Status415UnsupportedMediaType, "serve.other_type");
    }

    private static void Offsets(HttpContext context, long offset, long length)
    {
        context.Response.Headers["Upload-Offset"] = offset.ToString(CultureInfo.InvariantCulture);
        context.Response.Headers["Upload-Length"] = length.ToString(CultureInfo.InvariantCulture);
    }

    private static long? Header(HttpContext context, string name) => long.TryParse(context.Request.Headers[name].ToString(), NumberStyles.None, CultureInfo.InvariantCulture, out var x) ? x : null;

    private static string? Text(JsonElement of, string name)
    {
        try
        {
            return of.TryGetProperty(name, out var text) && text.ValueKind == JsonValueKind.String ? text.GetString() : null;
        }
        catch (InvalidOperationException)
        {
            // Half of a character pair: JSON can spell it, but no text can hold it.
            return null;
        }
    }

    /// <summary>A name that can be printed on a terminal: no control characters, not too long.</summary>
    private static string PlainName(string name)
    {
        var plain = new string([.. name.Where(c => !char.IsControl(c))]).Trim();
        return plain.Length == 0 ? "phone" : plain[..Math.Min(plain.Length, LongestName)];
    }
}
