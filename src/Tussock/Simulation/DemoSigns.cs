using Tussock.Numerics;
using Tussock.Records;
using static Tussock.Simulation.DemoText;

namespace Tussock.Simulation;

/// <summary>What is left of the eaten nests of an invented season: signs that follow the rules of thumb three times in four, as invented animals do.</summary>
internal static class DemoSigns
{
    private const double FollowsRule = 0.75;

    private static readonly (string Sign, string[] Values)[] Signs =
    [
        ("shell_present", ["none", "few_pieces", "most_of_the_shell"]),
        ("fragment_size", ["pulverised", "small", "large", "whole_egg_with_hole", "whole_egg_bitten"]),
        ("fragment_spread", ["in_bowl", "one_place", "several_places", "far"]),
        ("opening", ["large_end", "small_end", "side", "none"]),
        ("yolk_left", ["much", "little", "none"]),
        ("rooting", ["yes", "no"]),
        ("bowl", ["undisturbed", "dug_out", "cover_torn_away"]),
    ];

    /// <summary>The usual value of each sign, in the order of <see cref="Signs"/>.</summary>
    private static readonly Dictionary<string, string[]> Usual = new(StringComparer.Ordinal)
    {
        ["raccoon"] = ["most_of_the_shell", "large", "one_place", "side", "little", "no", "cover_torn_away"],
        ["skunk"] = ["most_of_the_shell", "whole_egg_with_hole", "in_bowl", "large_end", "little", "no", "dug_out"],
        ["coyote"] = ["few_pieces", "pulverised", "in_bowl", "none", "none", "no", "undisturbed"],
        ["opossum"] = ["few_pieces", "small", "several_places", "side", "little", "no", "undisturbed"],
        ["bobcat"] = ["most_of_the_shell", "whole_egg_bitten", "in_bowl", "side", "little", "no", "undisturbed"],
        ["snake"] = ["none", "small", "in_bowl", "none", "none", "no", "undisturbed"],
        ["feral_hog"] = ["few_pieces", "small", "far", "none", "none", "yes", "dug_out"],
        ["bird"] = ["most_of_the_shell", "whole_egg_with_hole", "in_bowl", "side", "much", "no", "undisturbed"],
    };

    internal static RecordTable Table(IReadOnlyList<DemoLine> lines, Seeded chance)
    {
        var rows = new RowsOf(RecordKind.Remains, "transect", "nest", "visited_on", "sign", "value", "observer", "crew_guess", "looked_within_m");
        foreach (var nest in lines.SelectMany(l => l.Nests).Where(n => n is { End: DemoEnd.Eaten, EndSeenOn: > 0 }))
        {
            if (chance.NextUniform() < 0.75) Read(nest, rows, chance);
        }

        // Written on the wrong sheet: a nest that was whole to the end has remains.
        var whole = lines.First(l => l.Pasture.Name == "North Draw").Nests.First(n => n.End == DemoEnd.Whole);
        Add(rows, whole, whole.Line.Checks.Second, "shell_present", "few_pieces");
        return rows.Table();
    }

    private static void Read(DemoNest nest, RowsOf rows, Seeded chance)
    {
        var hasShell = true;
        for (var i = 0; i < Signs.Length; i++)
        {
            var (sign, values) = Signs[i];
            var value = chance.NextUniform() < FollowsRule ? Usual[nest.Culprit][i] : Draw.One<string>(values, chance);
            if (sign == "shell_present") hasShell = value != "none";
            var needsShell = sign is "fragment_size" or "fragment_spread" or "opening";
            if ((needsShell && !hasShell) || (i > 2 && chance.NextUniform() < 0.3)) continue;
            Add(rows, nest, nest.EndSeenOn, sign, value);
        }
    }

    private static void Add(RowsOf rows, DemoNest nest, int day, string sign, string value) =>
        rows.Add(("transect", nest.Line.Name), ("nest", Of(nest.Number)), ("visited_on", Of(nest.Line.SetOn.AddDays(day))), ("sign", sign), ("value", value), ("observer", nest.Line.Walker.Name), ("looked_within_m", "3"));
}
