using System.CommandLine;
using Tussock.Exchange.SeasonFolder;
using Tussock.Exchange.Workbook;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock import</c>: a season folder or a workbook into a data file, everything or nothing.</summary>
internal static class ImportCommand
{
    private const int MostListed = 40;

    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = new Argument<string>("data") { Description = screen.Words.Say("help.import.file"), HelpName = "DATA" };
        var source = new Argument<string>("source") { Description = screen.Words.Say("help.import.source"), HelpName = "SOURCE" };
        var preview = new Option<bool>("--preview") { Description = screen.Words.Say("help.import.preview") };
        var apply = new Option<bool>("--apply") { Description = screen.Words.Say("help.import.apply") };
        var remove = new Option<bool>("--remove-missing") { Description = screen.Words.Say("help.import.remove") };
        var practice = new Option<bool>("--practice") { Description = screen.Words.Say("help.import.practice") };
        var named = SharedOptions.Season(screen);
        var by = SharedOptions.By(screen);
        var cameras = new CameraOptions(screen);
        var command = new Command("import", screen.Words.Say("help.import")) { data, source, preview, apply, remove, practice, named, by };
        foreach (var option in cameras.All) command.Add(option);
        command.SetAction(parsed =>
        {
            var (how, odd) = cameras.Read(parsed);
            if (how is null) return screen.Refuse(odd);
            var places = new MapImportRequest(parsed.GetValue(data)!, parsed.GetValue(source)!, parsed.GetValue(named), parsed.GetValue(preview), parsed.GetValue(apply), SharedOptions.Who(parsed.GetValue(by)));
            if (cameras.Nest(parsed) is { } nest) return CameraCardImport.Run(screen, places, how, nest, cancel);
            if (ArchiveImport.Is(places.Source)) return ArchiveImport.Run(screen, places, cancel);
            if (CameraImport.Is(places.Source)) return CameraImport.Run(screen, places, how with { Choices = how.Choices with { RemovesMissing = parsed.GetValue(remove) } }, cancel);
            if (PhotoImport.Is(parsed.GetValue(source)!)) return PhotoImport.Run(screen, parsed.GetValue(data)!, parsed.GetValue(source)!, parsed.GetValue(named), parsed.GetValue(by), parsed.GetValue(preview), cancel);
            if (FieldLogImport.Is(parsed.GetValue(source)!)) return FieldLogImport.Run(screen, parsed.GetValue(data)!, parsed.GetValue(source)!, cancel);
            if (MapImport.Is(parsed.GetValue(source)!)) return MapImport.Run(screen, places, cancel);
            var (tables, problems) = SeasonWorkbookReader.Is(parsed.GetValue(source)!) ? WorkbookFile.Read(screen, parsed.GetValue(source)!, cancel) : SeasonFolderReader.Read(parsed.GetValue(source)!, cancel);
            var stops = problems.Where(p => p.Severity == Severity.Stop).ToList();
            if (tables is null) return screen.Refuse(stops);
            var season = SeasonReading.Read(tables, out var wrong);
            stops.AddRange(wrong);
            if (season is null || stops.Count > 0) return screen.Refuse(stops);
            if (season.Settings.IsPractice && !parsed.GetValue(practice)) return screen.Refuse([new Problem("practice", Severity.Stop, new Place("datapackage.json", null, "season.practice"), Phrase.Of("student.import", ("title", season.Settings.Title)), Phrase.Of("student.import_todo"))]);
            if (!season.Settings.IsPractice && ArchiveImport.IsBesideCoarsened(parsed.GetValue(data)!, tables)) return screen.Refuse([new Problem("archive", Severity.Stop, new Place(parsed.GetValue(data)!), Phrase.Of("archive.coarse_there"), Phrase.Of("archive.coarse_there_todo"))]);
            var request = new ImportRequest
            {
                Season = tables,
                By = SharedOptions.Who(parsed.GetValue(by)),
                Now = DateTimeOffset.Now,
                Apply = parsed.GetValue(apply),
                RemoveMissing = parsed.GetValue(remove),
                Preview = parsed.GetValue(preview),
            };
            var end = Import(screen, DataFile.OpenToWrite(parsed.GetValue(data)!), request, season.Settings.Name, cancel);
            return end == Exit.Done && !request.Preview ? MediaFolder.TakeIn(screen, parsed.GetValue(source)!, parsed.GetValue(data)!, cancel) : end;
        });
        return command;
    }

    private static int Import(Screen screen, DataFile file, ImportRequest request, string season, CancellationToken cancel)
    {
        var moved = AnswerMoved.Watch(screen, file, season, cancel);
        var outcome = Once(screen, file, request, cancel);
        if (outcome.End == ImportEnd.NeedsApply && IsYes(screen, outcome)) outcome = Once(screen, file, request with { Apply = true }, cancel);
        var exit = Say(screen, outcome);
        if (outcome.End == ImportEnd.Done) moved.Say(cancel);
        return exit;
    }

    private static ImportOutcome Once(Screen screen, DataFile file, ImportRequest request, CancellationToken cancel)
    {
        using var progress = new Progress(screen, "app.importing");
        return file.Import(request, new Told<ImportProgress>(p => progress.Report(p.Total == 0 ? 0 : (double)p.Done / p.Total)), cancel);
    }

    /// <summary>Where stored values would change, a terminal is asked; a script has to say --apply.</summary>
    private static bool IsYes(Screen screen, ImportOutcome outcome) => screen.IsYes(e =>
    {
        List(screen, outcome, e);
        e.Write(screen.Words.Say("import.ask"));
    });

    private static int Say(Screen screen, ImportOutcome outcome)
    {
        switch (outcome.End)
        {
            case ImportEnd.Stopped:
                return screen.Refuse(outcome.Plan.Problems);
            case ImportEnd.NeedsApply:
                List(screen, outcome, screen.Err);
                screen.Err.WriteLine(screen.Words.Say("import.needs_apply"));
                return Exit.AtFault;
            case ImportEnd.NothingToDo:
                screen.Out.WriteLine(screen.Words.Say("import.nothing"));
                return Exit.Done;
            default:
                foreach (var c in outcome.Plan.Counts.Where(c => c.Rows > 0 || c.Missing > 0))
                {
                    screen.Out.WriteLine(screen.Words.Say(Phrase.Of("import.count", ("kind", c.Kind), ("rows", c.Rows), ("added", c.New), ("changed", c.Changed), ("conflicts", c.Conflicts), ("missing", c.Missing), ("removed", c.Removed))));
                }

                List(screen, outcome, screen.Out);
                screen.Out.WriteLine(screen.Words.Say(outcome.End == ImportEnd.Previewed ? "import.previewed" : "import.done"));
                return Exit.Done;
        }
    }

    private static void List(Screen screen, ImportOutcome outcome, TextWriter output)
    {
        foreach (var f in outcome.Plan.Findings.Take(MostListed))
        {
            output.WriteLine("  " + screen.Words.Say(Phrase.Of("import.case." + Token(f.Case), ("kind", f.Kind), ("key", f.Key), ("field", f.Field), ("stored", f.Stored), ("incoming", f.Incoming), ("line", f.Line))));
        }

        if (outcome.Plan.Findings.Length > MostListed) output.WriteLine("  " + screen.Words.Say(Phrase.Of("app.and_more", ("count", outcome.Plan.Findings.Length - MostListed))));
    }

    private static string Token(ImportCase one) => one switch
    {
        ImportCase.Changed => "changed",
        ImportCase.Conflict => "conflict",
        ImportCase.Removed => "removed",
        ImportCase.Returned => "returned",
        ImportCase.Missing => "missing",
        _ => "kept",
    };

    /// <summary>Told at once, on the thread that works; the framework's own progress class would come late.</summary>
    private sealed class Told<T>(Action<T> tell) : IProgress<T>
    {
        public void Report(T value) => tell(value);
    }
}
