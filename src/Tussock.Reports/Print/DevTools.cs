using System.Collections.Concurrent;
using System.Net.WebSockets;
using System.Text.Json;

namespace Tussock.Reports.Print;

/// <summary>One connection to a browser's DevTools protocol: calls with their answers, and events that are waited for.</summary>
/// <source>Chrome DevTools Protocol, domains Target, Page and Runtime.</source>
internal sealed class DevTools : IAsyncDisposable
{
    private readonly ClientWebSocket socket = new();
    private readonly ConcurrentDictionary<int, TaskCompletionSource<JsonElement>> calls = [];
    private readonly ConcurrentDictionary<(string Event, string? Session), TaskCompletionSource> events = [];
    private readonly CancellationTokenSource closing = new();
    private readonly SemaphoreSlim sending = new(1, 1);
    private Task listening = Task.CompletedTask;
    private int last;

    private DevTools()
    {
    }

    internal static async Task<DevTools> Connect(Uri address, CancellationToken cancel)
    {
        var tools = new DevTools();
        await tools.socket.ConnectAsync(address, cancel).ConfigureAwait(false);
        tools.listening = tools.Listen();
        return tools;
    }

    /// <summary>Calls a method and waits for its result.</summary>
    internal async Task<JsonElement> Call(string method, object parameters, string? session, CancellationToken cancel)
    {
        var id = Interlocked.Increment(ref last);
        var answer = new TaskCompletionSource<JsonElement>(TaskCreationOptions.RunContinuationsAsynchronously);
        calls[id] = answer;
        var message = session is null
            ? JsonSerializer.SerializeToUtf8Bytes(new { id, method, @params = parameters })
            : JsonSerializer.SerializeToUtf8Bytes(new { id, method, @params = parameters, sessionId = session });
        await sending.WaitAsync(cancel).ConfigureAwait(false);
        try
        {
            await socket.SendAsync(message, WebSocketMessageType.Text, endOfMessage: true, cancel).ConfigureAwait(false);
        }
        finally
        {
            sending.Release();
        }

        return await answer.Task.WaitAsync(cancel).ConfigureAwait(false);
    }

    /// <summary>The next time that an event comes; ask before the call that causes it.</summary>
    internal Task Next(string name, string? session) =>
        events.GetOrAdd((name, session), _ => new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously)).Task;

    public async ValueTask DisposeAsync()
    {
        await closing.CancelAsync().ConfigureAwait(false);
        await listening.ConfigureAwait(false);
        socket.Dispose();
        closing.Dispose();
        sending.Dispose();
    }

    private async Task Listen()
    {
        var buffer = new byte[1 << 16];
        using var message = new MemoryStream();
        try
        {
            while (true)
            {
                var part = await socket.ReceiveAsync(buffer, closing.Token).ConfigureAwait(false);
                if (part.MessageType == WebSocketMessageType.Close) break;
                message.Write(buffer, 0, part.Count);
                if (!part.EndOfMessage) continue;
                Take(message.GetBuffer().AsMemory(0, (int)message.Length));
                message.SetLength(0);
            }
        }
        catch (Exception fault) when (fault is OperationCanceledException or WebSocketException)
        {
            // The connection is closed, by us or by a browser that ended: whoever still waits is told below.
        }

        foreach (var call in calls.Values) call.TrySetException(new PdfException("The browser ended while it was printing."));
        foreach (var waiting in events.Values) waiting.TrySetException(new PdfException("The browser ended while it was printing."));
    }

    private void Take(ReadOnlyMemory<byte> json)
    {
        using var document = JsonDocument.Parse(json);
        var root = document.RootElement;
        if (root.TryGetProperty("id", out var id) && calls.TryRemove(id.GetInt32(), out var call))
        {
            if (root.TryGetProperty("error", out var error)) call.TrySetException(new PdfException("The browser refused: " + error.GetProperty("message").GetString()));
            else call.TrySetResult(root.GetProperty("result").Clone());
        }
        else if (root.TryGetProperty("method", out var method))
        {
            var session = root.TryGetProperty("sessionId", out var s) ? s.GetString() : null;
            if (events.TryRemove((method.GetString()!, session), out var waiting)) waiting.TrySetResult();
        }
    }
}
