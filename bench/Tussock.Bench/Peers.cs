using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;

namespace Tussock.Bench;

/// <summary>One time of a general-purpose package, with the number that both sides must agree on.</summary>
internal readonly record struct PeerTime(string Task, int N, string Name, double Seconds, double Value);

/// <summary>Runs the peers' script where R is at hand.</summary>
internal static class Peers
{
    private const string HowToGet = "Rscript or a package is missing, so the peers are not timed; on Debian: apt-get install r-base-core r-recommended r-cran-lme4";

    internal static IEnumerable<PeerTime> Run(string folder, int[] sizes, int seasons, double cap, string[] tasks)
    {
        using var process = Start(Script(), folder, string.Join(',', sizes), seasons.ToString(CultureInfo.InvariantCulture), cap.ToString(CultureInfo.InvariantCulture), string.Join(',', tasks));
        if (process is null)
        {
            Console.Error.WriteLine(HowToGet);
            yield break;
        }

        while (process.StandardOutput.ReadLine() is { } line)
        {
            var cells = line.Split(',');
            if (cells.Length == 5) yield return new PeerTime(cells[0], int.Parse(cells[1], CultureInfo.InvariantCulture), cells[2], Number(cells[3]), Number(cells[4]));
        }

        process.WaitForExit();
        if (process.ExitCode != 0) Console.Error.WriteLine(HowToGet);
    }

    private static Process? Start(params ReadOnlySpan<string> arguments)
    {
        var start = new ProcessStartInfo("Rscript") { RedirectStandardOutput = true, UseShellExecute = false };
        foreach (var argument in (ReadOnlySpan<string>)["--vanilla", .. arguments]) start.ArgumentList.Add(argument);
        try
        {
            return Process.Start(start);
        }
        catch (Win32Exception)
        {
            return null;
        }
    }

    private static string Script()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Tussock.slnx"))) return Path.Combine(folder.FullName, "bench", "peers", "peers.R");
        throw new InvalidOperationException("the checkout was not found above the program");
    }

    private static double Number(string cell) => double.TryParse(cell, CultureInfo.InvariantCulture, out var number) ? number : double.NaN;
}
