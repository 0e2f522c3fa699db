using System.CommandLine;
using Tussock.Exchange.SeasonFolder;

namespace Tussock.App.Commands;

/// <summary><c>tussock export</c>: DATA as a season folder, exact; with <c>--as</c> as a map, a calendar or an archive to publish, coarsened unless asked otherwise.</summary>
internal static class ExportCommand
{
    private const string Folder = "folder";

    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = SharedOptions.Data(screen);
        var target = new Argument<string?>("folder") { Description = screen.Words.Say("help.export.folder"), HelpName = "FOLDER", Arity = ArgumentArity.ZeroOrOne };
        var named = new Option<string?>("--out") { Description = screen.Words.Say("help.export.out"), HelpName = "PATH" };
        var form = new Option<string>("--as") { Description = screen.Words.Say("help.export.as"), DefaultValueFactory = _ => Folder };
        form.AcceptOnlyFromAmong([Folder, .. MapExport.Forms, CameraExport.Form, ArchiveExport.Form]);
        var exact = new Option<bool>("--exact") { Description = screen.Words.Say("help.export.exact") };
        var licence = new Option<string?>("--licence", "--license") { Description = screen.Words.Say("help.export.licence"), HelpName = "LICENCE" };
        var season = new Option<string?>("--season") { Description = screen.Words.Say("help.export.season"), HelpName = "NAME" };
        var overwrite = new Option<bool>("--overwrite") { Description = screen.Words.Say("help.export.overwrite") };
        var at = SharedOptions.At(screen);
        var command = new Command("export", screen.Words.Say("help.export")) { data, target, named, form, exact, licence, season, overwrite, at };
        command.Validators.Add(result =>
        {
            if (result.GetValue(target) is null == result.GetValue(named) is null) result.AddError(screen.Words.Say("maps.needs_target"));
            if (result.GetValue(licence) is not null && result.GetValue(form) != ArchiveExport.Form) result.AddError(screen.Words.Say("archive.licence_alone"));
        });
        command.SetAction(parsed =>
        {
            var path = parsed.GetValue(target) ?? parsed.GetValue(named)!;
            if (parsed.GetValue(form) is { } other and not Folder)
            {
                var request = new MapExportRequest(parsed.GetValue(data)!, parsed.GetValue(season), other, path, parsed.GetValue(exact), parsed.GetValue(overwrite), parsed.GetValue(at) ?? DateTimeOffset.UtcNow);
                if (other == ArchiveExport.Form) return ArchiveExport.Run(screen, request, parsed.GetValue(licence), cancel);
                return other == CameraExport.Form ? CameraExport.Run(screen, request, cancel) : MapExport.Run(screen, request, cancel);
            }

            var (tables, problems) = SeasonSource.Tables(parsed.GetValue(data)!, parsed.GetValue(season), cancel);
            if (tables is null || problems.Any(p => p.Severity == Severity.Stop)) return screen.Refuse(problems);
            var wrong = SeasonFolderWriter.Write(tables, path, parsed.GetValue(overwrite), cancel);
            if (!wrong.IsEmpty) return screen.Refuse(wrong);
            MediaFolder.HandOut(tables, parsed.GetValue(data)!, path, cancel);
            screen.Out.WriteLine(screen.Words.Say(Phrase.Of("app.exported", ("folder", path))));
            return Exit.Done;
        });
        return command;
    }
}
