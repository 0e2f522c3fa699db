using System.Buffers;
using System.CommandLine;
using System.Globalization;
using Tussock.Results;

namespace Tussock.App.Commands;

/// <summary><c>tussock results</c>: every estimate of the season.</summary>
internal static class ResultsCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = SharedOptions.Data(screen);
        var season = SharedOptions.SeasonOrAll(screen);
        var json = SharedOptions.Json(screen);
        var fates = new Option<bool>("--fates") { Description = screen.Words.Say("help.results.fates") };
        var seed = SharedOptions.Seed(screen);
        var at = SharedOptions.At(screen);
        var certainty = new Option<double?>("--certainty") { Description = screen.Words.Say("help.certainty"), HelpName = "C" };
        certainty.Validators.Add(result =>
        {
            if (result.Tokens.Count == 1 && !(double.TryParse(result.Tokens[0].Value, NumberStyles.Float, CultureInfo.InvariantCulture, out var c) && c is > 0.5 and < 1)) result.AddError(screen.Words.Say("help.certainty_wrong"));
        });
        var command = new Command("results", screen.Words.Say("help.results")) { data, season, json, fates, seed, certainty, at };
        command.SetAction(parsed =>
        {
            var (read, problems) = SeasonSource.SeasonOrAll(parsed.GetValue(data)!, parsed.GetValue(season), cancel);
            if (read is null) return screen.Refuse(problems);
            SeasonResults results;
            using (var progress = new Progress(screen, "app.computing"))
            {
                results = SeasonResults.Of(read, new ResultsOptions { Seed = parsed.GetValue(seed), Certainty = parsed.GetValue(certainty), Cancel = cancel, Progress = progress.Report });
            }

            if (parsed.GetValue(json)) WriteJson(screen, results, parsed.GetValue(seed), parsed.GetValue(at), parsed.GetValue(fates));
            else ResultsText.Write(results, screen.Words, screen.Out);
            return Exit.Done;
        });
        return command;
    }

    private static void WriteJson(Screen screen, SeasonResults results, ulong seed, DateTimeOffset? at, bool withFates)
    {
        var buffer = new ArrayBufferWriter<byte>((1 << 16) + (400 * results.Fates.Nests.Length));
        ResultsDocument.Write(results, SharedOptions.Made(seed, at), withFates, screen.Words, buffer);
        screen.WriteBytes(buffer.WrittenSpan);
    }
}
