using System.Net;
using System.Runtime.InteropServices;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Tussock.App.Commands;
using Tussock.App.Serving.Desk;
using Tussock.App.Serving.People;

namespace Tussock.App.Serving;

/// <summary>Runs the server from its start until somebody stops it, and gives out pairing codes meanwhile.</summary>
internal static class FieldDesk
{
    private const int FewestThreads = 16;

    internal static async Task<int> RunAsync(ServedSeasons seasons, Listening listening, string by, TextReader input, CancellationToken cancel)
    {
        var served = seasons.Usual;
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        using var terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, c =>
        {
            c.Cancel = true;
            stop.Cancel();
        });
        // Behind the pages an answer may be computed for a long while: they must not queue for the threads that it takes.
        ThreadPool.SetMinThreads(FewestThreads, FewestThreads);
        var (certificate, authority) = listening.Certificates(served.Clock.GetUtcNow());
        var code = new PairingCode(served.Clock);
        var media = served.File.Media;
        var api = new FieldApi(seasons, media, code);
        var door = new Doorkeeper(HostNames.Names(listening.Hosts).ToHashSet(StringComparer.OrdinalIgnoreCase));
        var page = new RootPage(authority?.Root, served.Words, listening.Address(listening.Port));
        var desk = new DeskSeasons(seasons, media);
        var gate = new DeskGate(seasons, desk, new PeopleSite(seasons, desk.KnownAsync, new Passwords(), new SignInPace(served.Clock)), by);
        await using var app = new FieldServer(served, api, door, page, gate).Make(kestrel =>
        {
            Listen(kestrel, listening, listening.Port, o => { if (certificate is not null) o.UseHttps(certificate); });
            if (listening.IsSecure) Listen(kestrel, listening, listening.Port == 0 ? 0 : listening.Port + 1, _ => { });
        });
        await app.StartAsync(stop.Token);
        Greet(seasons, listening, authority, [.. app.Urls.Select(u => new Uri(u.Replace("[::]", "localhost", StringComparison.Ordinal)).Port)]);
        if (listening.Network) GiveCodes(served, code, input, stop.Token);
        await Task.Delay(Timeout.Infinite, stop.Token).ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default);
        await app.StopAsync(CancellationToken.None);
        served.Say(Phrase.Of("serve.stopped"));
        return Exit.Done;
    }

    private static void Listen(KestrelServerOptions kestrel, Listening listening, int port, Action<ListenOptions> how)
    {
        if (listening.Network) kestrel.ListenAnyIP(port, how);
        else kestrel.Listen(IPAddress.Loopback, port, how);
    }

    private static void Greet(ServedSeasons seasons, Listening listening, LocalAuthority? authority, int[] ports)
    {
        var served = seasons.Usual;
        var all = seasons.All;
        served.Say(all is [var only] ? Phrase.Of("serve.season", ("season", only.Name)) : Phrase.Of("serve.seasons", ("seasons", all.Select(s => s.Name).ToArray())));
        served.Say(Phrase.Of(!listening.Network ? "serve.open" : served.File.People().IsEmpty ? "serve.desk_nobody" : "serve.desk", ("address", listening.Address(ports[0]).Replace("/field/", "/", StringComparison.Ordinal))));
        served.Say(Phrase.Of("serve.phone", ("address", listening.Address(ports[0]))));
        if (authority is null) return;
        served.Say(Phrase.Of("serve.root_page", ("address", listening.Address(ports[^1]).Replace("https://", "http://", StringComparison.Ordinal).Replace("/field/", "/root", StringComparison.Ordinal))));
        served.Say(Phrase.Of("serve.root.fingerprint", ("fingerprint", RootPage.Fingerprint(authority.Root))));
        if (authority.IsNew) served.Say(Phrase.Of("serve.root_new"));
    }

    /// <summary>A code at the start, and a new one for every line that is typed, on a thread of its own: reading a terminal can't be called off.</summary>
    private static void GiveCodes(ServedSeason served, PairingCode code, TextReader input, CancellationToken stop)
    {
        void Give()
        {
            var digits = code.Next();
            served.Say(Phrase.Of("serve.code", ("code", digits[..4] + " " + digits[4..])));
        }

        Give();
        var reading = new Thread(() => { while (input.ReadLine() is not null && !stop.IsCancellationRequested) Give(); }) { IsBackground = true };
        reading.Start();
    }
}
