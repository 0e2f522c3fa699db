using System.Collections.Immutable;
using System.CommandLine;
using System.Security.Cryptography;
using System.Text.Json;
using Tussock.Exchange.SeasonFolder;
using Tussock.Planning.Power;
using Tussock.Planning.Practice;

namespace Tussock.App.Commands;

/// <summary><c>tussock practice</c>: a whole study on an invented season whose truth is told once somebody has concluded something.</summary>
internal sealed class PracticeCommand(Screen screen, CancellationToken cancel)
{
    // A design that is often walked and often too small: worth doubting.
    private const int OfferedLines = 6, OfferedNests = 8, OfferedFirstCheck = 14;

    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var own = new PracticeCommand(screen, cancel);
        return new Command("practice", screen.Words.Say("help.practice")) { own.Season(), own.Open(), own.Tally() };
    }

    private Command Season()
    {
        var lines = Number("--transects", "help.practice.transects", OfferedLines);
        lines.Aliases.Add("--lines");
        var nests = Number("--nests", "help.practice.nests", OfferedNests);
        var first = Number("--first-check", "help.practice.first_check", OfferedFirstCheck);
        var noBelts = new Option<bool>("--no-belts") { Description = Say("help.practice.no_belts") };
        var seed = new Option<ulong?>("--seed") { Description = Say("help.practice.seed"), HelpName = "N" };
        var to = new Option<string>("--out") { Description = Say("help.practice.out"), HelpName = "FOLDER", Required = true };
        var command = new Command("season", Say("help.practice.season")) { lines, nests, first, noBelts, seed, to };
        command.SetAction(parsed =>
        {
            var design = new PracticeDesign(parsed.GetValue(lines), parsed.GetValue(nests), parsed.GetValue(first), !parsed.GetValue(noBelts));
            var wrong = design.Wrong();
            foreach (var sentence in wrong) screen.Refuse(sentence);
            if (!wrong.IsEmpty) return Exit.AtFault;
            var season = PracticeSeason.Of(design, parsed.GetValue(seed) ?? BitConverter.ToUInt64(RandomNumberGenerator.GetBytes(sizeof(ulong))));
            var folder = parsed.GetValue(to)!;
            var problems = SeasonFolderWriter.Write(season.Records(), folder, overwrite: false, cancel);
            if (!problems.IsEmpty) return screen.Refuse(problems);
            foreach (var said in PracticeSentences.Task(season).Append(Phrase.Of("student.written", ("folder", folder))).Append(Phrase.Of("student.written_next", ("folder", folder)))) Line(said);
            return Exit.Done;
        });
        return command;
    }

    private Command Open()
    {
        var folder = new Argument<string>("folder") { Description = Say("help.practice.folder"), HelpName = "FOLDER" };
        var (says, percent) = Conclusion("--says", "--percent", "help.practice.says", "help.practice.percent");
        var (clumps, clumpsPercent) = Conclusion("--clumps", "--clumps-percent", "help.practice.clumps", "help.practice.clumps_percent");
        var picture = new Option<string?>("--picture") { Description = Say("help.practice.picture"), HelpName = "FILE" };
        var command = new Command("open", Say("help.practice.open")) { folder, says, percent, clumps, clumpsPercent, picture };
        command.SetAction(parsed =>
        {
            var from = parsed.GetValue(folder)!;
            var season = SeasonIn(from);
            if (!season.HasValue) return screen.Refuse(season.Why);
            var kept = PracticeConclusions.Read(from);
            if (!kept.HasValue) return screen.Refuse(kept.Why);
            var before = kept.Value is { } earlier && earlier.Code == season.Value.Code ? earlier : null;
            var said = before ?? Said(parsed.GetValue(says), parsed.GetValue(percent), parsed.GetValue(clumps), parsed.GetValue(clumpsPercent), season.Value);
            if (!said.HasValue) return screen.Refuse(said.Why);
            if (before is null) said.Value.Write(from);
            Tell(PracticeOpened.Of(season.Value, said.Value.Survival, said.Value.Density), parsed.GetValue(picture));
            Line(before is null ? Phrase.Of("student.kept", ("file", PracticeConclusions.In(from))) : Phrase.Of("student.opened_before"));
            return Exit.Done;
        });
        return command;
    }

    private Command Tally()
    {
        var folders = new Argument<string[]>("folders") { Description = Say("help.practice.folders"), HelpName = "FOLDER", Arity = ArgumentArity.OneOrMore };
        var command = new Command("tally", Say("help.practice.tally")) { folders };
        command.SetAction(parsed =>
        {
            var opened = new List<PracticeOpened>();
            foreach (var folder in parsed.GetValue(folders)!)
            {
                var season = SeasonIn(folder);
                if (!season.HasValue) return screen.Refuse(season.Why);
                var kept = PracticeConclusions.Read(folder);
                if (!kept.HasValue) return screen.Refuse(kept.Why);
                if (kept.Value is { } said && said.Code == season.Value.Code) opened.Add(PracticeOpened.Of(season.Value, said.Survival, said.Density));
            }

            if (PracticeTally.Of(opened) is not { } tally) return screen.Refuse(Phrase.Of("student.wrong.no_answers"));
            foreach (var sentence in PracticeSentences.Tally(tally)) Line(sentence);
            return Exit.Done;
        });
        return command;
    }

    private void Tell(PracticeOpened opened, string? picture)
    {
        foreach (var said in PracticeSentences.Opened(opened)) Line(said);
        screen.Out.WriteLine();
        ImmutableArray<CallRates> rates;
        using (var progress = new Progress(screen, "student.progress")) rates = opened.Rates(progress.Report, cancel);
        foreach (var said in PracticeSentences.Errors(opened, rates)) Line(said);
        if (picture is not null && opened.WithCurves(cancel) is { Curves: { } curves } answer) File.WriteAllText(picture, PowerPicture.Draw(answer, curves, screen.Words));
        screen.Out.WriteLine();
    }

    /// <summary>The season for practice in a folder. Its records may have been changed meanwhile: the truth is that of its code.</summary>
    private Answer<PracticeSeason> SeasonIn(string folder)
    {
        if (!Directory.Exists(folder)) return NoAnswer.Because("student.wrong.not_practice", ("folder", folder));
        var (tables, _) = SeasonFolderReader.Read(folder, cancel);
        if (tables?.Package.SeasonJson("practice") is not { } json || JsonSerializer.Deserialize<JsonElement>(json) is not { ValueKind: JsonValueKind.String } text) return NoAnswer.Because("student.wrong.not_practice", ("folder", folder));
        return PracticeSeason.OfCode(text.GetString()!) is { } season ? season : NoAnswer.Because("student.wrong.code", ("found", text.GetString()!));
    }

    private static Answer<PracticeConclusions> Said(string? says, int? percent, string? clumps, int? clumpsPercent, PracticeSeason season)
    {
        if (says is null && percent is null) return NoAnswer.Because("student.wrong.none");
        if (says is null || percent is null || clumps is null != clumpsPercent is null) return NoAnswer.Because("student.wrong.pair");
        if (clumps is not null && !season.Design.HasBelts) return NoAnswer.Because("student.wrong.no_belts");
        var survival = new Conclusion(PracticeConclusions.SideOf(says), percent.Value);
        var density = clumps is null ? null : new Conclusion(PracticeConclusions.SideOf(clumps), clumpsPercent!.Value);
        return (survival.Wrong() ?? density?.Wrong()) is { } wrong ? new NoAnswer(wrong) : new PracticeConclusions(season.Code, survival, density);
    }

    private (Option<string?> Side, Option<int?> Percent) Conclusion(string side, string percent, string ofSide, string ofPercent)
    {
        var option = new Option<string?>(side) { Description = Say(ofSide), HelpName = "SIDE" };
        option.AcceptOnlyFromAmong(PracticeConclusions.Sides);
        return (option, new Option<int?>(percent) { Description = Say(ofPercent), HelpName = "N" });
    }

    private Option<int> Number(string name, string help, int usual) => new(name) { Description = Say(help), HelpName = "N", DefaultValueFactory = _ => usual };

    private string Say(string key) => screen.Words.Say(key);

    private void Line(Phrase phrase) => screen.Out.WriteLine(screen.Words.Say(phrase));
}
