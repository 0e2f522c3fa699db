using System.CommandLine;
using System.Runtime.CompilerServices;
using System.Security.Cryptography;
using Tussock.App.Serving;
using Tussock.Desk;
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
        var network = new Option<bool>("--network") { Description = screen.Words.Say("help.serve.network") };
        var certificate = new Option<string?>("--certificate") { Description = screen.Words.Say("help.serve.certificate"), HelpName = "FILE" };
        var key = new Option<string?>("--key") { Description = screen.Words.Say("help.serve.key"), HelpName = "FILE" };
        var imagery = new Option<string?>("--imagery") { Description = screen.Words.Say(Tiles("help.serve.imagery")), HelpName = "ADDRESS" };
        var credit = new Option<string?>("--imagery-credit") { Description = screen.Words.Say("help.serve.imagery_credit"), HelpName = "TEXT" };
        imagery.Validators.Add(r => { if (r.GetValueOrDefault<string?>() is { } address && Imagery.Of(address, "") is null) r.AddError(screen.Words.Say(Tiles("help.serve.imagery_wrong"))); });
        var by = SharedOptions.By(screen);
        var command = new Command("serve", screen.Words.Say("help.serve")) { data, season, port, host, network, certificate, key, imagery, credit, by };
        command.Validators.Add(r => { if (r.GetValue(key) is not null && r.GetValue(certificate) is null) r.AddError(screen.Words.Say("help.serve.key_alone")); });
        command.SetAction(parsed =>
        {
            var path = parsed.GetValue(data)!;
            var file = DataFile.OpenExisting(path);
            // Photos, reports and certificates need a place: better said now than when the first one comes.
            var beside = file.Beside("");
            file.BringUpToDate(DateTimeOffset.UtcNow);
            var named = parsed.GetValue(season);
            var all = ServedSeasons.NewestFirst(file.Seasons()).ToArray();
            // Several are served side by side; only what can't be found at all is refused.
            var (name, wrong) = named is null && all.Length > 1 ? (all[0].Name, []) : SeasonSource.Chosen(file, named);
            if (name is null) return screen.Refuse(wrong);
            var listening = new Listening(beside, parsed.GetValue(port), parsed.GetValue(host) ?? [], parsed.GetValue(network), parsed.GetValue(certificate), parsed.GetValue(key));
            return Serve(screen, (file, all.First(s => s.Name == name), named is not null), listening, Pictures(parsed.GetValue(imagery), parsed.GetValue(credit)), SharedOptions.Who(parsed.GetValue(by)), cancel);
        });
        return command;
    }

    private static Phrase Tiles(string key) => Phrase.Of(key, ("z", "{z}"), ("x", "{x}"), ("y", "{y}"));

    private static Imagery? Pictures(string? address, string? credit) => address is null ? null : Imagery.Of(address, credit ?? "");

    /// <summary>The only method that touches the web server: nothing of it is loaded for any other command.</summary>
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static int Serve(Screen screen, (DataFile File, SeasonEntry Season, bool IsNamed) what, Listening listening, Imagery? imagery, string by, CancellationToken cancel)
    {
        var gate = new Lock();
        void Say(Phrase phrase)
        {
            lock (gate)
            {
                screen.Out.WriteLine(screen.Words.Say(phrase));
                screen.Out.Flush();
            }
        }

        void Fault(Phrase phrase)
        {
            lock (gate) screen.Err.WriteLine(screen.Words.Say(phrase));
        }

        var served = new ServedSeason(what.File, what.Season, !listening.Network, TimeProvider.System, screen.Words, Say, Fault) { Imagery = imagery };
        try
        {
            return FieldDesk.RunAsync(new ServedSeasons(served, what.IsNamed), listening, by, Console.In, cancel).GetAwaiter().GetResult();
        }
        catch (CryptographicException)
        {
            var place = new Place(listening.Certificate ?? listening.Beside + ".tls");
            return screen.Refuse([new Problem("certificate", Severity.Stop, place, Phrase.Of("serve.no_certificate", ("file", place.File)), Phrase.Of("serve.certificate_todo"))]);
        }
    }
}
