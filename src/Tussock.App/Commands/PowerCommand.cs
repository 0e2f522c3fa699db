using System.Buffers;
using System.Collections.Immutable;
using System.CommandLine;
using System.Diagnostics;
using Tussock.Planning.Power;
using Tussock.Records;
using Tussock.Simulation;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary><c>tussock power</c>: whether a design can answer its question, before anyone walks.</summary>
internal sealed class PowerCommand
{
    private readonly Screen screen;
    private readonly CancellationToken cancel;
    private readonly Option<int> transects, nests, pastures, seasons, lateDays;
    private readonly Option<double?> survival, transectSd, clumps, densityCv, earlyShare, notRelocated, against, certainty;
    private readonly Option<double> lostNotRelocated, benchmark, clumpsBenchmark, coverRatio;
    private readonly Option<bool> needed, designs, curves, json;
    private readonly Option<string?> from, season, picture;
    private readonly Option<ulong> seed;

    private PowerCommand(Screen screen, CancellationToken cancel)
    {
        (this.screen, this.cancel) = (screen, cancel);
        transects = Required("--transects", "help.power.transects");
        nests = Required("--nests", "help.power.nests");
        pastures = With("--pastures", "help.power.pastures", "N", 1);
        survival = Perhaps("--survival", "help.power.survival", "P");
        transectSd = Perhaps("--transect-sd", "help.power.transect_sd", "S");
        clumps = Perhaps("--clumps-per-acre", "help.power.clumps_per_acre", "D");
        densityCv = Perhaps("--density-cv", "help.power.density_cv", "C");
        earlyShare = Perhaps("--early-share", "help.power.early_share", "P");
        notRelocated = Perhaps("--not-relocated", "help.power.not_relocated", "P");
        lostNotRelocated = With("--lost-not-relocated", "help.power.lost_not_relocated", "P", 0.0);
        lateDays = With("--late-days", "help.power.late_days", "N", 0);
        benchmark = With("--benchmark", "help.power.benchmark", "P", new SeasonSettings { Name = "", Title = "" }.SurvivalBenchmark);
        clumpsBenchmark = With("--clumps-benchmark", "help.power.clumps_benchmark", "D", new SeasonSettings { Name = "", Title = "" }.ClumpsPerAcreBenchmark);
        certainty = Perhaps("--certainty", "help.power.certainty", "C");
        coverRatio = With("--cover-ratio", "help.power.cover_ratio", "R", 2.0);
        against = Perhaps("--against", "help.power.against", "P");
        seasons = With("--seasons", "help.power.seasons", "K", 1000);
        needed = new Option<bool>("--needed") { Description = Say("help.power.needed") };
        designs = new Option<bool>("--designs") { Description = Say("help.power.designs") };
        curves = new Option<bool>("--curves") { Description = Say("help.power.curves") };
        from = new Option<string?>("--from") { Description = Say("help.power.from"), HelpName = "DATA" };
        season = SharedOptions.Season(screen);
        picture = new Option<string?>("--picture") { Description = Say("help.power.picture"), HelpName = "FILE" };
        seed = SharedOptions.Seed(screen);
        json = SharedOptions.Json(screen);
    }

    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var own = new PowerCommand(screen, cancel);
        var command = new Command("power", screen.Words.Say("help.power"))
        {
            own.transects, own.nests, own.survival, own.transectSd, own.clumps, own.densityCv, own.pastures, own.notRelocated, own.lostNotRelocated, own.earlyShare, own.lateDays, own.benchmark,
            own.clumpsBenchmark, own.certainty, own.coverRatio, own.against, own.from, own.season, own.needed, own.designs, own.curves, own.picture, own.seasons, own.seed, own.json,
        };
        command.SetAction(own.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var (earlier, problems) = Earlier(parsed);
        if (!problems.IsEmpty) return screen.Refuse(problems);
        if (earlier.FirstOrDefault(e => !e.HasValue) is { Why: { } why }) return screen.Refuse(why);
        ImmutableArray<EarlierSeason> guidance = [.. earlier.Select(e => e.Value)];
        if (guidance.IsEmpty && parsed.GetValue(survival) is null) return screen.Refuse(Phrase.Of("power.wrong.survival_missing"));
        var question = Question(parsed, guidance.IsEmpty ? null : EarlierSeason.Mean(guidance));
        var wrong = question.Wrong().AddRange(WrongExtras(parsed));
        foreach (var sentence in wrong) screen.Refuse(sentence);
        if (!wrong.IsEmpty) return Exit.AtFault;
        var file = parsed.GetValue(picture);
        var extras = new PowerExtras { Needed = parsed.GetValue(needed), Designs = parsed.GetValue(designs), Curves = parsed.GetValue(curves) || file is not null, CoverRatio = parsed.GetValue(coverRatio), Against = parsed.GetValue(against) };
        var clock = Stopwatch.StartNew();
        PowerAnswer answer;
        using (var progress = new Progress(screen, "power.progress")) answer = PowerAnswer.Of(question, extras, progress.Report, cancel);
        if (file is not null) WritePicture(answer, file);
        if (parsed.GetValue(json))
        {
            var buffer = new ArrayBufferWriter<byte>(1 << 13);
            PowerDocument.Write(answer, guidance, Math.Round(clock.Elapsed.TotalSeconds, 3), screen.Words, buffer);
            screen.WriteBytes(buffer.WrittenSpan);
        }
        else
        {
            PowerText.Write(answer, guidance, screen.Words, screen.Out);
        }

        return Exit.Done;
    }

    private (ImmutableArray<Answer<EarlierSeason>> Seasons, ImmutableArray<Problem> Problems) Earlier(ParseResult parsed)
    {
        if (parsed.GetValue(from) is not { } data) return ([], []);
        var named = parsed.GetValue(season);
        string?[] names = named is not null || SeasonSource.IsFolder(data) || !DataFile.IsThere(data) ? [named] : [.. DataFile.OpenToRead(data).Seasons().Select(s => s.Name)];
        var read = ImmutableArray.CreateBuilder<Answer<EarlierSeason>>();
        foreach (var name in names.Length == 0 ? [null] : names)
        {
            var (found, problems) = SeasonSource.Season(data, name, cancel);
            if (found is null) return ([], problems);
            // Nothing in a season for practice happened: no plan is made from it.
            if (!found.Settings.IsPractice) read.Add(EarlierSeason.Of(found));
        }

        if (read.Count == 0) return ([], [new Problem("only_practice", Severity.Stop, new Place(data), Phrase.Of("power.only_practice"), Phrase.Of("power.only_practice_todo"))]);
        return (read.ToImmutable(), []);
    }

    /// <summary>What was typed, else what earlier seasons say, else the usual.</summary>
    private PowerQuestion Question(ParseResult parsed, EarlierSeason? earlier)
    {
        var usual = new SeasonTruth();
        return new PowerQuestion
        {
            Pastures = parsed.GetValue(pastures),
            Design = new SeasonDesign(parsed.GetValue(transects), parsed.GetValue(nests)),
            Truth = new SeasonTruth
            {
                Survival = parsed.GetValue(survival) ?? earlier!.Survival,
                LineSd = parsed.GetValue(transectSd) ?? Math.Min(3, earlier?.LineSd ?? 0.7),
                EarlyShare = parsed.GetValue(earlyShare) ?? earlier?.EarlyShare ?? usual.EarlyShare,
                NotRelocated = parsed.GetValue(notRelocated) ?? earlier?.Unknown ?? usual.NotRelocated,
                LostNotRelocated = parsed.GetValue(lostNotRelocated),
                LateDays = parsed.GetValue(lateDays),
                PerAcre = parsed.GetValue(clumps) ?? earlier?.PerAcre ?? usual.PerAcre,
                DensityCv = parsed.GetValue(densityCv) ?? earlier?.DensityCv ?? usual.DensityCv,
            },
            HasDensity = parsed.GetValue(clumps) is not null || earlier?.PerAcre is not null,
            SurvivalBenchmark = parsed.GetValue(benchmark),
            DensityBenchmark = parsed.GetValue(clumpsBenchmark),
            Certainty = parsed.GetValue(certainty),
            Seasons = parsed.GetValue(seasons),
            Seed = parsed.GetValue(seed),
        };
    }

    private IEnumerable<Phrase> WrongExtras(ParseResult parsed)
    {
        if (!(parsed.GetValue(coverRatio) is >= 0.05 and <= 20)) yield return Phrase.Of("power.wrong.number", ("option", "cover-ratio"), ("found", parsed.GetValue(coverRatio)), ("least", 0.05), ("most", 20.0));
        if (parsed.GetValue(against) is { } other && !(other is >= 0.001 and <= 0.999)) yield return Phrase.Of("power.wrong.number", ("option", "against"), ("found", other), ("least", 0.001), ("most", 0.999));
    }

    private void WritePicture(PowerAnswer answer, string file)
    {
        var whole = Path.GetFullPath(file);
        File.WriteAllText(whole + ".part", PowerPicture.Draw(answer, answer.Curves!, screen.Words));
        File.Move(whole + ".part", whole, overwrite: true);
    }

    private string Say(string key) => screen.Words.Say(key);

    private Option<int> Required(string name, string key) => new(name) { Description = Say(key), HelpName = "N", Required = true };

    private Option<double?> Perhaps(string name, string key, string value) => new(name) { Description = Say(key), HelpName = value };

    private Option<T> With<T>(string name, string key, string value, T usual) => new(name) { Description = Say(key), HelpName = value, DefaultValueFactory = _ => usual };
}
