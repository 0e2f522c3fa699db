using System.Diagnostics;
using System.Globalization;

namespace Tussock.Browser.Tests.Field;

/// <summary>A desk that serves a season from a process of its own, and can be killed and started again on the same port.</summary>
internal sealed class FieldDesk : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("tussock-field-").FullName;
    private Process? serving;
    private int port;

    internal FieldDesk(IReadOnlyDictionary<string, string> season)
    {
        Done("import", Data, Written("planned", season));
        Start();
    }

    internal string Data => Path.Combine(folder, "season.db");

    internal string Address => string.Create(CultureInfo.InvariantCulture, $"http://localhost:{port}/field/");

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
        serving = Process(["serve", Data, "--port", port.ToString(CultureInfo.InvariantCulture)]);
        while (serving.StandardOutput.ReadLine() is { } line)
        {
            var at = line.IndexOf("http://", StringComparison.Ordinal);
            if (at < 0) continue;
            port = new Uri(line[at..].Trim()).Port;
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
    internal static string Done(params string[] args)
    {
        using var process = Process(args);
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

    private static Process Process(string[] args)
    {
        var start = new ProcessStartInfo("dotnet") { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "Tussock.App.dll"));
        foreach (var arg in args) start.ArgumentList.Add(arg);
        return System.Diagnostics.Process.Start(start)!;
    }
}
