using System.Diagnostics;

namespace Tussock.Browser.Tests.Reports;

/// <summary>The PDF tools of the system: what a PDF is, says and holds.</summary>
internal static class Poppler
{
    internal static string Run(string tool, params string[] arguments)
    {
        var start = new ProcessStartInfo(tool) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false };
        foreach (var argument in arguments) start.ArgumentList.Add(argument);
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync();
        var text = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode == 0 ? text : throw new InvalidOperationException(tool + ": " + error.Result);
    }
}
