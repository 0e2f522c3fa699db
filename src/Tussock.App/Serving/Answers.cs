using System.Text.Encodings.Web;
using System.Text.Json;
using Microsoft.AspNetCore.Http;

namespace Tussock.App.Serving;

/// <summary>A request that is answered with a sentence and a status instead of what it asked for.</summary>
/// <param name="status">Status of HTTP.</param>
/// <param name="why">Key of the sentence.</param>
internal sealed class RefusedRequestException(int status, string why) : Exception(why)
{
    internal int Status { get; } = status;

    internal Phrase Why { get; } = Phrase.Of(why);
}

/// <summary>Writes answers: JSON, never stored anywhere on the way.</summary>
internal static class Answers
{
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    internal static async Task JsonAsync(HttpContext context, int status, Action<Utf8JsonWriter> write)
    {
        using var stream = new MemoryStream();
        await using (var writer = new Utf8JsonWriter(stream, Options))
        {
            writer.WriteStartObject();
            write(writer);
            writer.WriteEndObject();
        }

        await BytesAsync(context, status, "application/json; charset=utf-8", stream.ToArray());
    }

    internal static Task WhyAsync(HttpContext context, int status, string why) => JsonAsync(context, status, w => w.WriteString("why", why));

    internal static async Task BytesAsync(HttpContext context, int status, string type, ReadOnlyMemory<byte> bytes)
    {
        context.Response.StatusCode = status;
        context.Response.ContentType = type;
        context.Response.ContentLength = bytes.Length;
        if (!HttpMethods.IsHead(context.Request.Method)) await context.Response.Body.WriteAsync(bytes, context.RequestAborted);
    }
}
