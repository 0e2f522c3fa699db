using System.Diagnostics;
using System.Globalization;
using Npgsql;

namespace Tussock.Edges.Tests.Store;

/// <summary>A PostgreSQL server for one run of the tests: made when the first test asks for it, ended with the run, also when the run is killed.</summary>
internal sealed class ThrowawayServer
{
    private const string User = "tussock";
    private static readonly Lazy<ThrowawayServer> Running = new(() => new ThrowawayServer());
    private static int made;
    private readonly string folder = Directory.CreateTempSubdirectory("tussock-pg-").FullName;
    private readonly string beside;
    private readonly Process watch;

    private ThrowawayServer()
    {
        var bin = Bin();
        beside = Directory.CreateDirectory(Path.Combine(folder, "beside")).FullName;
        // The server refuses to run as root: as root another account of the system gets the folder.
        string[] asUser = Environment.IsPrivilegedProcess ? ["runuser", "-u", Account(), "--"] : [];
        var inside = Path.Combine(folder, "server");
        Directory.CreateDirectory(inside);
        if (asUser.Length > 0)
        {
            Done(["chown", asUser[2], inside]);
            Done(["chmod", "a+rx", folder]);
        }

        Done([.. asUser, Path.Combine(bin, "initdb"), "-A", "trust", "-U", User, "-E", "UTF8", "--no-sync", "--no-locale", "-D", Path.Combine(inside, "data")]);
        // The shell reads until this process is gone, however it went; then it ends the server and takes the folder away. Writes go to the disk as in earnest: kills are part of the tests.
        var start = new ProcessStartInfo("sh") { RedirectStandardInput = true, UseShellExecute = false };
        foreach (var arg in (string[])["-c", "\"$@\" >\"$0/log\" 2>&1 & cat >/dev/null; kill -INT $(head -n 1 \"$0/server/data/postmaster.pid\"); wait $!; rm -rf \"$0\"", folder, .. asUser, Path.Combine(bin, "postgres"), "-D", Path.Combine(inside, "data"), "-k", inside, "-c", "listen_addresses=", "-c", "max_connections=200"]) start.ArgumentList.Add(arg);
        watch = Process.Start(start)!;
        AppDomain.CurrentDomain.ProcessExit += (_, _) =>
        {
            watch.StandardInput.Close();
            watch.WaitForExit(20_000);
        };
        Environment.SetEnvironmentVariable("TUSSOCK_FOLDER", beside);
        Wait(inside);
    }

    /// <summary>The folder for what lies beside the data.</summary>
    internal static string Beside => Running.Value.beside;

    /// <summary>How the server is reached, with a password that it does not ask for: none may be seen anywhere.</summary>
    internal static string Address(string database) => "Host=" + Path.Combine(Running.Value.folder, "server") + ";Username=" + User + ";Password=" + Secret + ";Database=" + database;

    /// <summary>A password that no sentence, log or document may show.</summary>
    internal const string Secret = "b4-n0b0dy-s33s";

    /// <summary>Makes a database, empty or as another is.</summary>
    internal static string Make(string? like = null)
    {
        var name = "season_" + Interlocked.Increment(ref made).ToString(CultureInfo.InvariantCulture);
        if (like is not null) NpgsqlConnection.ClearAllPools();
        Run("postgres", "CREATE DATABASE " + name + (like is null ? "" : " TEMPLATE " + like));
        return name;
    }

    internal static void Drop(string database) => Run("postgres", "DROP DATABASE IF EXISTS " + database + " WITH (FORCE)");

    /// <summary>Runs a statement in a database, behind the program's back.</summary>
    internal static object? Run(string database, string sql)
    {
        using var connection = new NpgsqlConnection(Address(database) + ";Pooling=false");
        connection.Open();
        using var command = connection.CreateCommand();
#pragma warning disable CA2100 // The statements are the tests' own.
        command.CommandText = sql;
#pragma warning restore CA2100
        return command.ExecuteScalar();
    }

    private static string Bin()
    {
        var places = Directory.Exists("/usr/lib/postgresql") ? Directory.GetDirectories("/usr/lib/postgresql").OrderByDescending(d => int.TryParse(Path.GetFileName(d), CultureInfo.InvariantCulture, out var n) ? n : 0).Select(d => Path.Combine(d, "bin")) : [];
        return places.Concat((Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)).FirstOrDefault(p => File.Exists(Path.Combine(p, "initdb")))
            ?? throw new InvalidOperationException("PostgreSQL is not installed here (on Debian: apt-get install postgresql): half of the tests of the store can't run");
    }

    private static string Account() => File.ReadLines("/etc/passwd").Any(l => l.StartsWith("postgres:", StringComparison.Ordinal)) ? "postgres" : "nobody";

    private static void Done(string[] command)
    {
        using var process = Process.Start(new ProcessStartInfo(command[0], command[1..]) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false, WorkingDirectory = "/" })!;
        var said = process.StandardError.ReadToEndAsync();
        process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        if (process.ExitCode != 0) throw new InvalidOperationException(command[^1] + ": " + said.GetAwaiter().GetResult());
    }

    private void Wait(string inside)
    {
        for (var n = 0; ; n++)
        {
            try
            {
                using var connection = new NpgsqlConnection("Host=" + inside + ";Username=" + User + ";Database=postgres;Pooling=false");
                connection.Open();
                return;
            }
            catch (NpgsqlException) when (n < 200 && !watch.HasExited)
            {
                // It is still starting.
                Thread.Sleep(50);
            }
        }
    }
}
