using System.Collections.Frozen;
using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using Tussock.Provisions;
using Tussock.Records;

namespace Tussock.App.Commands;

/// <summary>What supplies are reckoned from, on a command line.</summary>
internal sealed class SupplyOptions(Screen screen)
{
    internal Option<double?> Survival { get; } = Share(screen, "--survival", "help.sheets.survival", null);

    internal Option<double?> Spare { get; } = Share(screen, "--spare", "help.sheets.spare", new SupplyNeeds().Spare);

    internal Option<int> Cameras { get; } = new("--cameras") { Description = screen.Words.Say("help.sheets.cameras"), HelpName = "N" };

    internal Option<FrozenDictionary<string, double>> Costs { get; } = new("--cost")
    {
        Description = screen.Words.Say("help.sheets.cost"),
        HelpName = "COSTS",
        DefaultValueFactory = _ => FrozenDictionary<string, double>.Empty,
        CustomParser = result =>
        {
            var costs = new Dictionary<string, double>(StringComparer.Ordinal);
            foreach (var text in result.Tokens.SelectMany(t => t.Value.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)))
            {
                if (text.Split('=') is [var name, var number] && SupplyList.Names.Contains(name) && double.TryParse(number, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var cost) && double.IsFinite(cost)) costs[name] = cost;
                else result.AddError(screen.Words.Say("help.sheets.cost_wrong"));
            }

            return costs.ToFrozenDictionary(StringComparer.Ordinal);
        },
    };

    /// <summary>What was asked; survival at the season's benchmark where nobody says another.</summary>
    internal SupplyNeeds Needs(ParseResult parsed, Season season) => new()
    {
        Survival = parsed.GetValue(Survival) ?? season.Settings.SurvivalBenchmark,
        Spare = parsed.GetValue(Spare)!.Value,
        Cameras = Math.Max(0, parsed.GetValue(Cameras)),
        UnitCosts = parsed.GetValue(Costs)!,
    };

    private static Option<double?> Share(Screen screen, string option, string help, double? usual) => new(option)
    {
        Description = screen.Words.Say(help),
        HelpName = "SHARE",
        DefaultValueFactory = _ => usual,
        CustomParser = result =>
        {
            if (result.Tokens.Count == 1 && double.TryParse(result.Tokens[0].Value, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var share) && share is >= 0 and <= 1) return share;
            result.AddError(screen.Words.Say(Phrase.Of("help.sheets.share_wrong", ("option", option))));
            return usual;
        },
    };
}
