using System.Buffers;
using System.Collections.Immutable;
using System.CommandLine;
using Tussock.Evidence;
using Tussock.Records;
using Tussock.Results;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock signs</c>: who did it, why the belief is what it is, and how well signs predict cameras here.</summary>
internal static class SignsCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = new Argument<string?>("data") { Description = screen.Words.Say("help.signs.data"), HelpName = "DATA", Arity = ArgumentArity.ZeroOrOne };
        var season = SharedOptions.SeasonOrAll(screen);
        var catalogue = new Option<bool>("--catalogue") { Description = screen.Words.Say("help.signs.catalogue") };
        var json = SharedOptions.Json(screen);
        var seed = SharedOptions.Seed(screen);
        var at = SharedOptions.At(screen);
        var command = new Command("signs", screen.Words.Say("help.signs")) { data, season, json, catalogue, seed, at };
        command.Validators.Add(result =>
        {
            if (result.GetValue(data) is null == !result.GetValue(catalogue)) result.AddError(screen.Words.Say("help.signs.data_or_catalogue"));
        });
        command.SetAction(parsed =>
        {
            if (parsed.GetValue(catalogue)) return Printed(screen, parsed.GetValue(json));
            var name = parsed.GetValue(season);
            var (read, problems) = SeasonSource.SeasonOrAll(parsed.GetValue(data)!, name, cancel);
            if (read is null) return screen.Refuse(problems);
            var (others, wrong) = name == PooledYears.All ? ([], []) : Others(parsed.GetValue(data)!, read.Settings.Name, cancel);
            if (!wrong.IsEmpty) return screen.Refuse(wrong);
            SeasonSigns signs;
            using (var progress = new Progress(screen, "app.computing"))
            {
                signs = SeasonSigns.Of(read, others, new ResultsOptions { Seed = parsed.GetValue(seed), Cancel = cancel, Progress = progress.Report });
            }

            if (parsed.GetValue(json)) WriteJson(screen, signs, parsed.GetValue(at));
            else SignsText.Write(signs, screen.Words, screen.Out);
            return Exit.Done;
        });
        return command;
    }

    /// <summary>The other seasons of a data file; none of a season folder.</summary>
    private static (ImmutableArray<Season> Seasons, ImmutableArray<Problem> Problems) Others(string data, string name, CancellationToken cancel)
    {
        if (SeasonSource.IsFolder(data) || !DataFile.IsThere(data)) return ([], []);
        var others = ImmutableArray.CreateBuilder<Season>();
        foreach (var other in DataFile.OpenToRead(data).Seasons().Where(s => s.Name != name))
        {
            var (read, problems) = SeasonSource.Season(data, other.Name, cancel);
            if (read is null) return ([], problems);
            others.Add(read);
        }

        return (others.ToImmutable(), []);
    }

    private static int Printed(Screen screen, bool asJson)
    {
        if (!asJson)
        {
            SignCatalogueText.Write(SignCatalogue.Standard, screen.Words, screen.Out);
            return Exit.Done;
        }

        var buffer = new ArrayBufferWriter<byte>(1 << 14);
        SignCatalogueDocument.Write(SignCatalogue.Standard, buffer);
        screen.WriteBytes(buffer.WrittenSpan);
        return Exit.Done;
    }

    private static void WriteJson(Screen screen, SeasonSigns signs, DateTimeOffset? at)
    {
        var buffer = new ArrayBufferWriter<byte>(1 << 16);
        SignsDocument.Write(signs, SharedOptions.Made(signs.Seed, at), screen.Words, buffer);
        screen.WriteBytes(buffer.WrittenSpan);
    }
}
