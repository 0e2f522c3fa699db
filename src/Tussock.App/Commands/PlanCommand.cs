using System.Collections.Immutable;
using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using Tussock.Exchange.Places;
using Tussock.Layout;

namespace Tussock.App.Commands;

/// <summary><c>tussock plan</c>: where the lines go, and a season folder ready for set-out.</summary>
internal static class PlanCommand
{
    internal static Command Make(Screen screen, CancellationToken cancel)
    {
        var data = new Argument<string?>("data") { Description = screen.Words.Say("help.plan.data"), HelpName = "DATA", Arity = ArgumentArity.ZeroOrOne };
        var season = SharedOptions.Season(screen);
        var pastures = new Option<string?>("--pastures") { Description = screen.Words.Say("help.plan.pastures"), HelpName = "FILE" };
        var zones = new Option<string?>("--zones") { Description = screen.Words.Say("help.plan.zones"), HelpName = "FILE" };
        var only = Names(screen, "--only", "help.plan.only");
        var lines = Whole(screen, "--transects", "help.plan.transects", 6, (1, 200));
        var stations = Whole(screen, "--nests", "help.plan.nests", 8, (1, 200));
        var steps = Whole(screen, "--steps-between", "help.plan.steps_between", 50, (1, 1000));
        var step = Metres(screen, "--step", "help.plan.step", null, (0.3, 1.5));
        var separation = Metres(screen, "--separation", "help.plan.separation", 100, (0, 10_000));
        var edge = Metres(screen, "--from-edges", "help.plan.from_edges", 0, (0, 10_000));
        var road = Metres(screen, "--from-roads", "help.plan.from_roads", 0, (0, 10_000));
        var water = Metres(screen, "--from-water", "help.plan.from_water", 0, (0, 10_000));
        var other = Metres(screen, "--from-zones", "help.plan.from_zones", 0, (0, 10_000));
        var gradient = Whole(screen, "--gradient", "help.plan.gradient", null, (0, 359));
        var straight = new Option<bool>("--straight") { Description = screen.Words.Say("help.plan.straight") };
        var covers = Names(screen, "--covers", "help.plan.covers");
        var turns = new Option<string>("--turns") { Description = screen.Words.Say("help.plan.turns"), HelpName = "in-turn|drawn", DefaultValueFactory = _ => "in-turn" };
        turns.AcceptOnlyFromAmong("in-turn", "drawn");
        var half = new Option<bool>("--half-flags") { Description = screen.Words.Say("help.plan.half_flags") };
        var takeUp = Names(screen, "--take-up", "help.plan.take_up");
        var name = new Option<string?>("--name") { Description = screen.Words.Say("help.plan.name"), HelpName = "NAME" };
        var year = new Option<string?>("--year") { Description = screen.Words.Say("help.plan.year"), HelpName = "YEAR" };
        var zone = new Option<string?>("--time-zone") { Description = screen.Words.Say("help.plan.time_zone"), HelpName = "ZONE" };
        var property = new Option<string?>("--property") { Description = screen.Words.Say("help.plan.property"), HelpName = "NAME" };
        var fewer = new Option<bool>("--as-many-as-fit") { Description = screen.Words.Say("help.plan.as_many") };
        var seed = SharedOptions.Seed(screen);
        var folder = new Option<string>("--out") { Description = screen.Words.Say("help.plan.out"), HelpName = "FOLDER", Required = true };
        var overwrite = new Option<bool>("--overwrite") { Description = screen.Words.Say("help.plan.overwrite") };
        var at = SharedOptions.At(screen);
        var command = new Command("plan", screen.Words.Say("help.plan"))
        {
            data, season, pastures, zones, only, lines, stations, seed, folder, steps, step, separation, edge, road, water, other, gradient, straight, covers, turns, half, takeUp, name, year, zone, property, fewer, overwrite, at,
        };
        command.Validators.Add(parsed =>
        {
            if (parsed.GetResult(data) is { Tokens.Count: > 0 } == parsed.GetResult(pastures) is not null) parsed.AddError(screen.Words.Say("help.plan.land"));
        });
        command.SetAction(parsed =>
        {
            var rules = new LayoutRules(parsed.GetValue(lines)!.Value, parsed.GetValue(stations)!.Value)
            {
                StepsBetween = parsed.GetValue(steps)!.Value,
                SeparationM = parsed.GetValue(separation)!.Value,
                EdgeM = parsed.GetValue(edge)!.Value,
                GradientDeg = parsed.GetValue(gradient),
                MayBend = !parsed.GetValue(straight),
                Turns = parsed.GetValue(turns) == "drawn" ? CoverTurns.Drawn : CoverTurns.InTurn,
                HalfFlagged = parsed.GetValue(half),
            };
            var request = new PlanRequest(rules, parsed.GetValue(folder)!)
            {
                Data = parsed.GetValue(data),
                Season = parsed.GetValue(season),
                Pastures = parsed.GetValue(pastures),
                Zones = parsed.GetValue(zones),
                Only = parsed.GetValue(only),
                StepM = parsed.GetValue(step),
                Keep = new KeepAway(parsed.GetValue(road)!.Value, parsed.GetValue(water)!.Value, parsed.GetValue(other)!.Value),
                Covers = parsed.GetValue(covers),
                TakeUp = parsed.GetValue(takeUp),
                Name = parsed.GetValue(name),
                Year = parsed.GetValue(year),
                TimeZone = parsed.GetValue(zone),
                Property = parsed.GetValue(property),
                AsManyAsFit = parsed.GetValue(fewer),
                Seed = parsed.GetValue(seed),
                Overwrite = parsed.GetValue(overwrite),
                On = DateOnly.FromDateTime((parsed.GetValue(at) ?? DateTimeOffset.UtcNow).UtcDateTime),
            };
            return PlanRun.Run(screen, request, cancel);
        });
        return command;
    }

    private static Option<int?> Whole(Screen screen, string option, string help, int? usual, (int Least, int Most) range) =>
        Number<int?>(screen, option, help, "N", usual, range.Least, range.Most, text => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var n) && n >= range.Least && n <= range.Most ? n : null);

    private static Option<double?> Metres(Screen screen, string option, string help, double? usual, (double Least, double Most) range) =>
        Number<double?>(screen, option, help, "METRES", usual, range.Least, range.Most, text => double.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var x) && x >= range.Least && x <= range.Most ? x : null);

    private static Option<T> Number<T>(Screen screen, string option, string help, string shown, T usual, double least, double most, Func<string, T> read) => new(option)
    {
        Description = screen.Words.Say(help),
        HelpName = shown,
        DefaultValueFactory = _ => usual,
        CustomParser = result =>
        {
            if (result.Tokens.Count == 1 && read(result.Tokens[0].Value) is { } value) return value;
            result.AddError(screen.Words.Say(Phrase.Of("help.plan.number_wrong", ("option", option), ("least", least), ("most", most))));
            return usual;
        },
    };

    private static Option<ImmutableArray<string>> Names(Screen screen, string option, string help) => new(option)
    {
        Description = screen.Words.Say(help),
        HelpName = "NAMES",
        DefaultValueFactory = _ => [],
        CustomParser = result => [.. result.Tokens.SelectMany(t => t.Value.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))],
    };
}

/// <summary>What to plan and how.</summary>
/// <param name="Rules">Rules of the layout, but for what the land says itself: the step, the covers.</param>
/// <param name="Folder">Season folder to write.</param>
internal sealed record PlanRequest(LayoutRules Rules, string Folder)
{
    internal string? Data { get; init; }

    internal string? Season { get; init; }

    internal string? Pastures { get; init; }

    internal string? Zones { get; init; }

    internal ImmutableArray<string> Only { get; init; } = [];

    internal double? StepM { get; init; }

    internal KeepAway Keep { get; init; }

    internal ImmutableArray<string> Covers { get; init; } = [];

    internal ImmutableArray<string> TakeUp { get; init; } = [];

    internal string? Name { get; init; }

    internal string? Year { get; init; }

    internal string? TimeZone { get; init; }

    internal string? Property { get; init; }

    internal bool AsManyAsFit { get; init; }

    internal ulong Seed { get; init; }

    internal bool Overwrite { get; init; }

    internal DateOnly On { get; init; }
}
