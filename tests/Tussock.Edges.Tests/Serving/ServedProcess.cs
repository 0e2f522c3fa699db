using System.Diagnostics;
using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using Tussock.App.Commands;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary><c>tussock serve</c> as a process of its own, and a browser without scripts beside it.</summary>
internal sealed partial class ServedProcess : IDisposable
{
    private readonly Process process;

    private ServedProcess(Process process, Uri address)
    {
        this.process = process;
        Client = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false, MaxConnectionsPerServer = 100 }) { BaseAddress = address, Timeout = TimeSpan.FromMinutes(10) };
    }

    internal HttpClient Client { get; }

    /// <summary>Megabytes that the process has of the machine's memory.</summary>
    internal long MegabytesUsed
    {
        get
        {
            process.Refresh();
            return process.WorkingSet64 >> 20;
        }
    }

    internal static ServedProcess Start(string data)
    {
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true };
        foreach (var arg in (string[])[typeof(Tree).Assembly.Location, "serve", data, "--port", "0", "--as", "crew 1"]) start.ArgumentList.Add(arg);
        var started = Process.Start(start)!;
        started.ErrorDataReceived += (_, _) => { };
        started.BeginErrorReadLine();
        var said = "";
        while (started.StandardOutput.ReadLine() is { } line)
        {
            said += line + "\n";
            if (Opened().Match(line) is not { Success: true } address) continue;
            _ = started.StandardOutput.ReadToEndAsync();
            return new ServedProcess(started, new Uri(address.Value));
        }

        started.WaitForExit();
        throw new InvalidOperationException("It did not start: " + said);
    }

    /// <summary>Waits until everything of a season is computed.</summary>
    /// <param name="season">What its addresses begin with; empty where there is one.</param>
    /// <param name="cancel">Stops the waiting.</param>
    internal async Task ReadyAsync(string season, CancellationToken cancel)
    {
        for (var clock = Stopwatch.StartNew(); clock.Elapsed < TimeSpan.FromMinutes(5);)
        {
            using var state = JsonDocument.Parse(await Client.GetStringAsync(new Uri(season + "/desk/state", UriKind.Relative), cancel));
            Assert.False(state.RootElement.GetProperty("broken").GetBoolean());
            if (state.RootElement.GetProperty("position").GetInt64() == state.RootElement.GetProperty("answer").GetInt64()) return;
            await Client.GetStringAsync(new Uri(season + "/quick", UriKind.Relative), cancel);
            await Task.Delay(200, cancel);
        }

        Assert.Fail("the answer never came");
    }

    /// <summary>The form of a record as its page has it.</summary>
    internal async Task<Dictionary<string, string>> FormAsync(string season, Guid record, CancellationToken cancel) => PageForm.Fields(await Client.GetStringAsync(Of(record, season), cancel));

    /// <summary>Sends the form of a record back.</summary>
    internal async Task<HttpStatusCode> PostAsync(string season, Guid record, Dictionary<string, string> form, CancellationToken cancel)
    {
        using var content = new FormUrlEncodedContent(form);
        using var answer = await Client.PostAsync(Of(record, season), content, cancel);
        return answer.StatusCode;
    }

    /// <summary>Ends it as a power cut would.</summary>
    internal void Kill()
    {
        process.Kill();
        process.WaitForExit();
    }

    public void Dispose()
    {
        Client.Dispose();
        if (!process.HasExited) Kill();
        process.Dispose();
    }

    private static Uri Of(Guid record, string season) => new(season + "/record/" + record, UriKind.Relative);

    [GeneratedRegex("http://localhost:[0-9]+/")]
    private static partial Regex Opened();
}
