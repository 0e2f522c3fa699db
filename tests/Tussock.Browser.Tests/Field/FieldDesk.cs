using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace Tussock.Browser.Tests.Field;

/// <summary>A desk that serves a season from a process of its own, and can be killed and started again on the same port.</summary>
internal sealed class FieldDesk : IDisposable
{
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(2);
    private readonly string folder = Directory.CreateTempSubdirectory("tussock-field-").FullName;
    private readonly string? host;
    private readonly string[] more;
    private Process? serving;
    private int port;

    /// <param name="season">Files of the season.</param>
    /// <param name="host">A name under which phones of the network come in, over a certificate of the desk's own; null: this computer alone.</param>
    /// <param name="data">Address of an empty database on a server; null: a data file of the desk's own.</param>
    /// <param name="more">Further words behind <c>serve</c>.</param>
    internal FieldDesk(IReadOnlyDictionary<string, string> season, string? host = null, string? data = null, params string[] more)
    {
        Data = data ?? At("season.db");
        (this.host, this.more) = (host, more);
        if (host is not null) port = FreePair();
        Done("import", Data, Written("planned", season));
        Start();
    }

    internal string Data { get; }

    internal string Address => string.Create(CultureInfo.InvariantCulture, $"{(host is null ? "http://localhost" : "https://" + host)}:{port}/field/");

    /// <summary>The address of the page for new phones; only where the desk is open to a network.</summary>
    internal Uri? RootPage { get; private set; }

    /// <summary>The code that lets the next phone in; only where the desk is open to a network.</summary>
    internal string Code { get; private set; } = "";

    internal string At(string name) => Path.Combine(folder, name);

    /// <summary>A season folder made of texts.</summary>
    internal string Written(string name, IReadOnlyDictionary<string, string> files)
    {
        var to = Directory.CreateDirectory(Path.Combine(folder, name)).FullName;
        foreach (var (file, text) in files) File.WriteAllText(Path.Combine(to, file), text);
        return to;
    }

    internal void Start()
    {
        serving = Process(["serve", Data, "--port", port.ToString(CultureInfo.InvariantCulture), .. host is null ? (string[])[] : ["--network", "--host", host], .. more]);
        using var limit = Limited(serving);
        while (serving.StandardOutput.ReadLine() is { } line)
        {
            if (AddressIn(line) is not { } said)
            {
                if (line.StartsWith("Pairing code", StringComparison.Ordinal)) Code = new string([.. line.Where(char.IsAsciiDigit)]);
                if (Code.Length == 0) continue;
                _ = serving.StandardOutput.ReadToEndAsync();
                return;
            }

            if (said.AbsolutePath == "/root")
            {
                RootPage = said;
                continue;
            }

            port = said.Port;
            if (host is not null) continue;
            _ = serving.StandardOutput.ReadToEndAsync();
            return;
        }

        throw new InvalidOperationException("The desk did not start: " + serving.StandardError.ReadToEnd());
    }

    internal void Kill()
    {
        serving?.Kill();
        serving?.WaitForExit();
        serving?.Dispose();
        serving = null;
    }

    /// <summary>What a command says; it must end well.</summary>
    internal static string Done(params string[] args) => DoneWith("", args);

    /// <summary>What a command says that reads something first; it must end well.</summary>
    internal static string DoneWith(string input, params string[] args)
    {
        using var process = Process(args);
        using var limit = Limited(process);
        process.StandardInput.Write(input);
        process.StandardInput.Close();
        var error = process.StandardError.ReadToEndAsync();
        var output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0 ? output : throw new InvalidOperationException(string.Join(' ', args) + ": " + error.GetAwaiter().GetResult());
    }

    internal static string Results(string data) => Done("results", data, "--json", "--fates", "--at", "2026-07-01T00:00:00Z");

    public void Dispose()
    {
        Kill();
        Directory.Delete(folder, recursive: true);
    }

    /// <summary>A port that is free, with the one above it: the page for new phones stands there.</summary>
    private static int FreePair()
    {
        for (var turn = 0; turn < 50; turn++)
        {
            using var first = new TcpListener(IPAddress.Loopback, 0);
            first.Start();
            var free = ((IPEndPoint)first.LocalEndpoint).Port;
            try
            {
                using var second = new TcpListener(IPAddress.Loopback, free + 1);
                second.Start();
                return free;
            }
            catch (SocketException)
            {
                // Taken: the next pair.
            }
        }

        throw new InvalidOperationException("No two ports in a row are free");
    }

    /// <summary>Ends a process that hangs: whoever waits for it is told so, instead of waiting for ever.</summary>
    private static Timer Limited(Process process) => new(
        _ =>
        {
            try
            {
                process.Kill();
            }
            catch (InvalidOperationException)
            {
                // It has just ended by itself.
            }
        },
        null,
        Longest,
        Timeout.InfiniteTimeSpan);

    private static Uri? AddressIn(string line)
    {
        var at = line.IndexOf("http", StringComparison.Ordinal);
        return at >= 0 && Uri.TryCreate(line[at..].Split(' ')[0], UriKind.Absolute, out var address) ? address : null;
    }

    private static Process Process(string[] args)
    {
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardInput = true, RedirectStandardOutput = true, RedirectStandardError = true };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "Tussock.App.dll"));
        foreach (var arg in args) start.ArgumentList.Add(arg);
        return System.Diagnostics.Process.Start(start)!;
    }
}
