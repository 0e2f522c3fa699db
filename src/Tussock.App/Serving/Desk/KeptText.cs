using System.IO.Compression;
using Microsoft.AspNetCore.Http;

namespace Tussock.App.Serving.Desk;

/// <summary>A large text as it goes out: as it is, and packed for those who can unpack it.</summary>
/// <param name="Bytes">The text.</param>
/// <param name="Packed">The same, packed with Brotli.</param>
internal sealed record PackedText(byte[] Bytes, byte[] Packed)
{
    private const string Packing = "br";

    internal static PackedText Of(byte[] bytes)
    {
        var packed = new byte[BrotliEncoder.GetMaxCompressedLength(bytes.Length)];
        return new PackedText(bytes, BrotliEncoder.TryCompress(bytes, packed, out var length, quality: 3, window: 22) ? packed[..length] : throw new InvalidOperationException("A text could not be packed"));
    }

    internal Task AnswerAsync(HttpContext context, string type)
    {
        context.Response.Headers.Vary = "Accept-Encoding";
        var isPacked = context.Request.Headers.AcceptEncoding.ToString().Split(',').Any(e => e.Split(';')[0].Trim() == Packing && !e.Contains("q=0", StringComparison.Ordinal));
        if (isPacked) context.Response.Headers.ContentEncoding = Packing;
        return Answers.BytesAsync(context, StatusCodes.Status200OK, type, isPacked ? Packed : Bytes);
    }
}

/// <summary>Keeps one large text, and makes it anew in the background when what it is made of is another. May be shared between threads.</summary>
/// <typeparam name="T">What it is made of, compared as it compares itself.</typeparam>
internal sealed class KeptText<T>
    where T : struct
{
    /// <summary>What somebody waits at most for the newest; then they get the last.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMilliseconds(100);

    private readonly Lock gate = new();
    private T of;
    private PackedText? last;
    private Task<PackedText>? making;

    /// <summary>The text of this, or the last one while this is being made.</summary>
    internal async Task<PackedText> OfAsync(T source, Func<byte[]> make)
    {
        Task<PackedText> task;
        lock (gate)
        {
            if (last is not null && EqualityComparer<T>.Default.Equals(of, source)) return last;
            // One at a time: a text that is on its way already is soon there.
            if (making is null || making.IsCompleted) making = Task.Run(() => Kept(source, make));
            task = making;
        }

        if (last is null) return await task;
        await Task.WhenAny(task, Task.Delay(Patience));
        lock (gate) return last;
    }

    private PackedText Kept(T source, Func<byte[]> make)
    {
        var text = PackedText.Of(make());
        lock (gate) (of, last) = (source, text);
        return text;
    }
}
