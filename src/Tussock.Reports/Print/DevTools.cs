using System.Net.WebSockets;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace Tussock.Reports.Print;

/// <summary>Commands to a browser and their answers, one after another.</summary>
/// <remarks>The Chrome DevTools Protocol over a web socket on this machine: chromedevtools.github.io/devtools-protocol.</remarks>
internal sealed class DevTools : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(90);
    private readonly ClientWebSocket socket = new();
    private int last;

    public void Dispose() => socket.Dispose();

    internal async Task ConnectAsync(Uri address, CancellationToken cancel) => await InTimeAsync(socket.ConnectAsync, address, cancel).ConfigureAwait(false);

    /// <summary>Sends a command and waits for its answer.</summary>
    /// <exception cref="BrowserException">The browser refused, or did not answer in time.</exception>
    internal async Task<JsonObject> AskAsync(string method, JsonObject parameters, string? session, CancellationToken cancel)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        patience.CancelAfter(Patience);
        var id = ++last;
        var message = new JsonObject { ["id"] = id, ["method"] = method, ["params"] = parameters };
        if (session is not null) message["sessionId"] = session;
        try
        {
            await socket.SendAsync(JsonSerializer.SerializeToUtf8Bytes(message), WebSocketMessageType.Text, true, patience.Token).ConfigureAwait(false);
            while (true)
            {
                var answer = await ReceiveAsync(patience.Token).ConfigureAwait(false);
                if ((int?)answer["id"] != id) continue;
                if (answer["error"] is { } error) throw new BrowserException(method + ": " + error["message"]);
                return answer["result"] as JsonObject ?? [];
            }
        }
        catch (OperationCanceledException late) when (!cancel.IsCancellationRequested)
        {
            throw new BrowserException(method + ": no answer", late);
        }
        catch (WebSocketException fault)
        {
            throw new BrowserException(method + ": " + fault.Message, fault);
        }
    }

    private static async Task InTimeAsync(Func<Uri, CancellationToken, Task> connect, Uri address, CancellationToken cancel)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        patience.CancelAfter(Patience);
        try
        {
            await connect(address, patience.Token).ConfigureAwait(false);
        }
        catch (Exception fault) when (fault is WebSocketException || (fault is OperationCanceledException && !cancel.IsCancellationRequested))
        {
            throw new BrowserException(fault.Message, fault);
        }
    }

    private async Task<JsonNode> ReceiveAsync(CancellationToken cancel)
    {
        using var whole = new MemoryStream();
        var buffer = new byte[1 << 16];
        while (true)
        {
            var part = await socket.ReceiveAsync(buffer.AsMemory(), cancel).ConfigureAwait(false);
            if (part.MessageType == WebSocketMessageType.Close) throw new BrowserException("the browser ended");
            whole.Write(buffer, 0, part.Count);
            if (part.EndOfMessage) return JsonNode.Parse(whole.ToArray()) ?? new JsonObject();
        }
    }
}
