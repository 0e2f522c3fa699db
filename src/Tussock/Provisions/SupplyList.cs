using System.Collections.Frozen;
using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Provisions;

/// <summary>What the list of supplies is reckoned from.</summary>
/// <remarks>Equal when all fields are equal, the costs by reference.</remarks>
public sealed record SupplyNeeds
{
    /// <summary>Eggs a nest, at least 1; default 3.</summary>
    public int EggsANest { get; init; } = 3;

    /// <summary>Share of nests expected to survive the trial, [0, 1]; it decides how many get fresh eggs.</summary>
    public double Survival { get; init; } = 0.5;

    /// <summary>Share added to what breaks or gets lost, 0 or more; default a tenth.</summary>
    public double Spare { get; init; } = 0.1;

    /// <summary>Cameras that stand at nests, 0 or more.</summary>
    public int Cameras { get; init; }

    /// <summary>Batteries of a camera, 0 or more; default 8.</summary>
    public int BatteriesACamera { get; init; } = 8;

    /// <summary>Cost of one piece by the name of its row, in the user's money; rows without one cost nothing that is told.</summary>
    public FrozenDictionary<string, double> UnitCosts { get; init; } = FrozenDictionary<string, double>.Empty;
}

/// <summary>One row of the list.</summary>
/// <param name="Name">Name, one of <see cref="SupplyList.Names"/>.</param>
/// <param name="Count">Pieces, spare included, 0 or more.</param>
/// <param name="UnitCost">Cost of one piece; null when nobody gave one.</param>
public readonly record struct SupplyRow(string Name, int Count, double? UnitCost)
{
    /// <summary>Cost of all pieces; null when nobody gave the cost of one.</summary>
    public double? Cost => UnitCost * Count;
}

/// <summary>What a season needs, in pieces: eggs, washers, flags, gloves, batteries, sheets.</summary>
/// <param name="Rows">Rows with a count, in the order in which they are loaded.</param>
public sealed record SupplyList(ImmutableArray<SupplyRow> Rows)
{
    /// <summary>Kinds of sheets that each line needs besides those of its checks: set-out, belt, remains.</summary>
    private const int SheetsALine = 3;

    /// <summary>Names of all rows.</summary>
    public static ImmutableArray<string> Names { get; } = ["eggs", "eggs_again", "washers", "flags", "gloves", "sheets", "cameras", "batteries"];

    /// <summary>Cost of everything that has a unit cost; null when nothing has one.</summary>
    public double? Cost => Rows.Any(r => r.Cost is not null) ? Rows.Sum(r => r.Cost ?? 0) : null;

    /// <summary>The list of a season.</summary>
    /// <param name="season">The season, planned or set out: its stations, lines, check days and whether eggs are renewed.</param>
    /// <param name="needs">What it is reckoned from.</param>
    /// <returns>Counts rounded up, spare included. Fresh eggs: for the share of nests expected whole at each check but the last, if loss is even over the trial; none when the season never renews, a tenth of them when it renews spoiled eggs alone.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A number of the needs is outside its range.</exception>
    /// <source>Common practice, no source: three eggs a nest, fresh ones for those whole at the first check; a tenth to spare. Share whole at day d of D: survival to the power of d/D, the exponential law of even loss.</source>
    public static SupplyList Of(Season season, SupplyNeeds needs)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(needs is { EggsANest: >= 1, Survival: >= 0 and <= 1, Spare: >= 0 and <= 10, Cameras: >= 0, BatteriesACamera: >= 0 }, true, nameof(needs));
        var nests = season.Nests.Count(n => n.Status != StationStatus.Extra);
        var flagged = season.Nests.Count(n => n.Status != StationStatus.Extra && n.Source.Token("marked") != "none");
        var lines = season.Transects.Length;
        var checks = season.Settings.CheckDays;
        var again = checks.SkipLast(1).Sum(day => Math.Pow(needs.Survival, (double)day / season.Settings.TrialDays)) * Renewed(season);
        ImmutableArray<(string Name, int Count)> rows =
        [
            ("eggs", More(nests * needs.EggsANest)), ("eggs_again", More(nests * needs.EggsANest * again)), ("washers", More(nests)), ("flags", More(flagged + lines)),
            ("gloves", lines * (1 + checks.Length)), ("sheets", lines * (SheetsALine + checks.Length)), ("cameras", needs.Cameras), ("batteries", More(needs.Cameras * needs.BatteriesACamera)),
        ];
        return new SupplyList([.. rows.Where(r => r.Count > 0).Select(r => new SupplyRow(r.Name, r.Count, needs.UnitCosts.TryGetValue(r.Name, out var cost) ? cost : null))]);

        // Twelve digits are enough for pieces, and 110 · 1.1 must not become 122 by its last one.
        int More(double count) => (int)Math.Ceiling(Math.Round(count * (1 + needs.Spare), 6));
    }

    private static double Renewed(Season season) => season.Tables.Package.SeasonJson("renew_eggs")?.Trim('"') switch { "never" => 0, "spoiled_only" => 0.1, _ => 1 };
}
