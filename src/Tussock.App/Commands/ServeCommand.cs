using System.CommandLine;
using System.Net;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Tussock.App.Serving;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock serve</c>: the phone app and its address for sending, until it is stopped.</summary>
internal static class ServeCommand
{
    private const int UsualPort = 5080;

    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = new Argument<string>("data") { Description = screen.Words.Say("help.import.file"), HelpName = "DATA" };
        var season = SharedOptions.Season(screen);
        var port = new Option<int>("--port") { Description = screen.Words.Say("help.serve.port"), HelpName = "N", DefaultValueFactory = _ => UsualPort };
        port.Validators.Add(r => { if (r.GetValueOrDefault<int>() is < 0 or > 65534) r.AddError(screen.Words.Say("help.serve.port_wrong")); });
        var host = new Option<string[]>("--host") { Description = screen.Words.Say("help.serve.host"), HelpName = "NAME" };
        var command = new Command("serve", screen.Words.Say("help.serve")) { data, season, port, host };
        command.SetAction(parsed =>
        {
            var path = parsed.GetValue(data)!;
            // Only reading says that there is no such file; writing would make one.
            var file = File.Exists(path) ? DataFile.OpenToWrite(path) : DataFile.OpenToRead(path);
            file.BringUpToDate(DateTimeOffset.UtcNow);
            var (name, wrong) = SeasonSource.Chosen(file, parsed.GetValue(season));
            if (name is null) return screen.Refuse(wrong);
            return Serve(screen, path, file, file.Seasons().First(s => s.Name == name), parsed.GetValue(port), parsed.GetValue(host) ?? [], cancel);
        });
        return command;
    }

    /// <summary>The only method that touches the web server: nothing of it is loaded for any other command.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static int Serve(Screen screen, string path, DataFile file, SeasonEntry season, int port, string[] hosts, CancellationToken cancel)
    {
        var gate = new Lock();
        void Say(Phrase phrase)
        {
            lock (gate) screen.Out.WriteLine(screen.Words.Say(phrase));
        }

        var served = new ServedSeason(file, season, IsLoopbackOnly: true, TimeProvider.System, screen.Words, Say);
        return ServeAsync(served, path, port, hosts, cancel).GetAwaiter().GetResult();
    }

    private static async Task<int> ServeAsync(ServedSeason served, string path, int port, string[] hosts, CancellationToken cancel)
    {
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        using var terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, c => { c.Cancel = true; stop.Cancel(); });
        var api = new FieldApi(served, new BundleShelf(served.File, served.Season.Name, served.Clock), new MediaStore(path), new PairingCode(served.Clock));
        await using var app = new FieldServer(served, api, new Doorkeeper(hosts.ToHashSet(StringComparer.OrdinalIgnoreCase))).Make(k => k.Listen(IPAddress.Loopback, port));
        await app.StartAsync(stop.Token);
        served.Say(Phrase.Of("serve.season", ("season", served.Season.Name)));
        served.Say(Phrase.Of("serve.open", ("address", app.Urls.First().Replace("127.0.0.1", "localhost", StringComparison.Ordinal) + "/field/")));
        await Task.Delay(Timeout.Infinite, stop.Token).ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default);
        await app.StopAsync(CancellationToken.None);
        served.Say(Phrase.Of("serve.stopped"));
        return Exit.Done;
    }
}
