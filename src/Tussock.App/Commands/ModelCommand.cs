using System.Buffers;
using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Tussock.Models;
using Tussock.Results;

namespace Tussock.App.Commands;

/// <summary><c>tussock model</c>: what survival depends on, in effects chosen by plain words.</summary>
internal sealed class ModelCommand
{
    private readonly Screen screen;
    private readonly Option<string> outcome, link, cameras;
    private readonly Option<string?> effects;
    private readonly Option<string> random;
    private readonly Option<string[]> interactions, candidates, predictions;
    private readonly Option<int> nodes, resamples;
    private readonly Option<double?> days;
    private readonly Option<bool> compare, profile, fitCheck;
    private readonly Option<ulong> seed;

    private ModelCommand(Screen screen)
    {
        this.screen = screen;
        outcome = OneOf("--outcome", "help.model.outcome", "survival", "predation");
        effects = new Option<string?>("--effects") { Description = Say("help.model.effects"), HelpName = "NAMES" };
        interactions = new Option<string[]>("--interaction") { Description = Say("help.model.interaction"), HelpName = "NAME,NAME" };
        random = new Option<string>("--random") { Description = Say("help.model.random"), HelpName = "GROUPS", DefaultValueFactory = _ => "none" };
        link = OneOf("--link", "help.model.link", "daily-logit", "log-hazard");
        nodes = new Option<int>("--quadrature") { Description = Say("help.model.quadrature"), HelpName = "N", DefaultValueFactory = _ => 9 };
        cameras = OneOf("--cameras", "help.model.cameras", "exact", "ignore");
        compare = new Option<bool>("--compare") { Description = Say("help.model.compare") };
        candidates = new Option<string[]>("--candidate") { Description = Say("help.model.candidate"), HelpName = "NAMES" };
        predictions = new Option<string[]>("--predict") { Description = Say("help.model.predict"), HelpName = "PATTERN" };
        days = new Option<double?>("--days") { Description = Say("help.model.days"), HelpName = "N" };
        profile = new Option<bool>("--profile") { Description = Say("help.model.profile") };
        fitCheck = new Option<bool>("--fit-check") { Description = Say("help.model.fit_check") };
        resamples = new Option<int>("--resamples") { Description = Say("help.model.resamples"), HelpName = "N", DefaultValueFactory = _ => new FitCheckOptions().Resamples };
        seed = SharedOptions.Seed(screen);
        interactions.Validators.Add(result => Refuse(result, t => t.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Length != 2, "help.model.interaction_wrong"));
        random.Validators.Add(result => Refuse(result, t => Groups(t) is null, "help.model.random_wrong"));
        nodes.Validators.Add(result => Refuse(result, t => !(int.TryParse(t, NumberStyles.None, CultureInfo.InvariantCulture, out var n) && n is >= 1 and <= 25), "help.model.quadrature_wrong"));
        resamples.Validators.Add(result => Refuse(result, t => !(int.TryParse(t, NumberStyles.None, CultureInfo.InvariantCulture, out var n) && n is >= 19 and <= 99_999), "help.model.resamples_wrong"));
        days.Validators.Add(result => Refuse(result, t => !(double.TryParse(t, NumberStyles.Float, CultureInfo.InvariantCulture, out var d) && d > 0 && double.IsFinite(d)), "help.model.days_wrong"));
    }

    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var own = new ModelCommand(screen);
        var data = SharedOptions.Data(screen);
        var season = SharedOptions.SeasonOrAll(screen);
        var json = SharedOptions.Json(screen);
        var command = new Command("model", screen.Words.Say("help.model"))
        {
            data, season, own.effects, own.interactions, own.random, own.link, own.nodes, own.outcome, own.cameras, own.compare, own.candidates, own.predictions, own.days, own.profile,
            own.fitCheck, own.resamples, own.seed, json,
        };
        command.SetAction(parsed =>
        {
            var (read, problems) = SeasonSource.SeasonOrAll(parsed.GetValue(data)!, parsed.GetValue(season), cancel);
            if (read is null) return screen.Refuse(problems);
            var request = own.Request(parsed);
            if (!request.HasValue) return screen.Refuse(request.Why);
            Answer<SeasonModel> model;
            using (var progress = new Progress(screen, "app.computing")) model = SeasonModel.Of(read, request.Value with { FitCheck = own.Check(parsed, progress, cancel) });
            if (!model.HasValue) return screen.Refuse(model.Why);
            if (parsed.GetValue(json)) WriteJson(screen, model.Value);
            else ModelText.Write(model.Value, screen.Words, screen.Out);
            return Exit.Done;
        });
        return command;
    }

    private static void WriteJson(Screen screen, SeasonModel model)
    {
        var buffer = new ArrayBufferWriter<byte>(1 << 14);
        ModelDocument.Write(model, screen.Words, buffer);
        screen.WriteBytes(buffer.WrittenSpan);
    }

    private static ImmutableArray<string>? Groups(string text)
    {
        ImmutableArray<string> groups = [.. text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];
        if (groups is ["none"]) return [];
        var isKnown = groups.Length > 0 && groups.All(g => g is "transect" or "pasture" or "year") && groups.Distinct().Count() == groups.Length;
        return isKnown && (groups.Length == 1 || groups.Contains("transect")) ? groups : null;
    }

    private Answer<ModelRequest> Request(ParseResult parsed)
    {
        var patterns = ImmutableArray.CreateBuilder<Pattern>();
        foreach (var text in parsed.GetValue(predictions) ?? [])
        {
            var pattern = Pattern.Read(text);
            if (!pattern.HasValue) return new NoAnswer(pattern.Why);
            patterns.Add(pattern.Value);
        }

        var chosen = parsed.GetValue(effects) is { } names ? EffectChoice.Read(names) : null;
        foreach (var pair in (parsed.GetValue(interactions) ?? []).Select(p => p.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)))
        {
            chosen = (chosen ?? EffectChoice.Constant).With(pair[0], pair[1]);
        }

        var list = parsed.GetValue(candidates) ?? [];
        return new ModelRequest
        {
            Effects = chosen,
            Random = Groups(parsed.GetValue(random)!)!.Value,
            Link = parsed.GetValue(link) == "log-hazard" ? Link.LogHazard : Link.DailyLogit,
            Nodes = parsed.GetValue(nodes),
            Cameras = parsed.GetValue(cameras) == "ignore" ? CameraTimes.Ignore : CameraTimes.Exact,
            Outcome = parsed.GetValue(outcome) == "predation" ? Outcome.Predation : Outcome.Survival,
            Predict = patterns.ToImmutable(),
            Days = parsed.GetValue(days),
            Profile = parsed.GetValue(profile),
            Compare = parsed.GetValue(compare) || list.Length > 0 ? [.. list.Select(EffectChoice.Read)] : null,
        };
    }

    private FitCheckOptions? Check(ParseResult parsed, Progress progress, CancellationToken cancel) =>
        parsed.GetValue(fitCheck) ? new FitCheckOptions { Resamples = parsed.GetValue(resamples), Seed = parsed.GetValue(seed), Progress = progress.Report, Cancel = cancel } : null;

    private string Say(string key) => screen.Words.Say(key);

    private Option<string> OneOf(string name, string key, string usual, string other)
    {
        var option = new Option<string>(name) { Description = Say(key), DefaultValueFactory = _ => usual };
        option.AcceptOnlyFromAmong(usual, other);
        return option;
    }

    private void Refuse(System.CommandLine.Parsing.OptionResult result, Func<string, bool> isWrong, string key)
    {
        if (result.Tokens.Any(t => isWrong(t.Value))) result.AddError(Say(key));
    }
}
