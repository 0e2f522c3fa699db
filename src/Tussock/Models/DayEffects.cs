using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Before or after the first planned check: an interval across it is cut into two pieces.</summary>
/// <param name="firstCheck">Day of the first planned check.</param>
public sealed class FortnightEffect(double firstCheck) : Effect
{
    /// <summary>Its classes.</summary>
    public static ImmutableArray<string> Halves { get; } = ["first", "second"];

    /// <inheritdoc/>
    public override bool ChangesWithDays => true;

    /// <inheritdoc/>
    public override Effect Typical(ModelNests nests) => this;

    /// <inheritdoc/>
    public override double At(int row, double day) => day <= firstCheck ? 0 : 1;

    /// <inheritdoc/>
    public override void AddCuts(int row, double from, double to, List<double> cuts)
    {
        if (firstCheck > from && firstCheck < to) cuts.Add(firstCheck);
    }
}

/// <summary>Whether the eggs were refreshed since set-out.</summary>
/// <param name="refreshed">Days of refreshing of each row, ascending.</param>
public sealed class RefreshedEffect(ImmutableArray<double>[] refreshed) : Effect
{
    /// <summary>Its classes.</summary>
    public static ImmutableArray<string> NoYes { get; } = ["no", "yes"];

    /// <inheritdoc/>
    public override bool ChangesWithDays => true;

    /// <inheritdoc/>
    public override Effect Typical(ModelNests nests) => new RefreshedEffect([nests.PlannedRefreshing]) { Name = Name, Levels = Levels };

    /// <inheritdoc/>
    public override double At(int row, double day) => refreshed[row].IsEmpty || day <= refreshed[row][0] ? 0 : 1;

    /// <inheritdoc/>
    public override void AddCuts(int row, double from, double to, List<double> cuts)
    {
        if (!refreshed[row].IsEmpty && refreshed[row][0] is var day && day > from && day < to) cuts.Add(day);
    }
}

/// <summary>Age of the eggs in days since they were set or last refreshed, day by day: 0.5 all through the first day, 1.5 through the second.</summary>
/// <param name="refreshed">Days of refreshing of each row, ascending.</param>
public sealed class EggAgeEffect(ImmutableArray<double>[] refreshed) : Effect
{
    /// <inheritdoc/>
    public override bool ChangesWithDays => true;

    /// <inheritdoc/>
    public override Effect Typical(ModelNests nests) => new EggAgeEffect([nests.PlannedRefreshing]) { Name = Name };

    /// <inheritdoc/>
    public override double At(int row, double day) => Math.Max(Math.Ceiling(day - Since(row, day)), 1) - 0.5;

    /// <inheritdoc/>
    public override void AddCuts(int row, double from, double to, List<double> cuts)
    {
        var begin = from;
        foreach (var day in refreshed[row])
        {
            if (day <= from || day >= to) continue;
            WholeDays.Add(Since(row, day), begin, day, cuts);
            cuts.Add(day);
            begin = day;
        }

        WholeDays.Add(Since(row, to), begin, to, cuts);
    }

    /// <summary>Day from which the eggs of a moment count their age; on the day of refreshing itself the old ones do.</summary>
    private double Since(int row, double day)
    {
        var since = 0.0;
        foreach (var r in refreshed[row]) if (r < day) since = r;
        return since;
    }
}

/// <summary>Days since the season's first set-out, day by day: a nest set d days after it is at d + 0.5 all through its first day.</summary>
/// <param name="offsets">Days from the season's first set-out to that of each row.</param>
public sealed class SeasonDateEffect(double[] offsets) : Effect
{
    /// <inheritdoc/>
    public override bool ChangesWithDays => true;

    /// <inheritdoc/>
    public override Effect Typical(ModelNests nests) => new SeasonDateEffect([nests.Mean(r => offsets[r])]) { Name = Name };

    /// <inheritdoc/>
    public override double At(int row, double day) => offsets[row] + Math.Max(Math.Ceiling(day), 1) - 0.5;

    /// <inheritdoc/>
    public override void AddCuts(int row, double from, double to, List<double> cuts) => WholeDays.Add(0, from, to, cuts);
}

/// <summary>Cuts at whole days.</summary>
internal static class WholeDays
{
    /// <summary>Adds the days since + 1, since + 2, … that lie in (from, to).</summary>
    internal static void Add(double since, double from, double to, List<double> cuts)
    {
        for (var k = Math.Max(1, Math.Floor(from - since) + 1); since + k < to; k++) if (since + k > from) cuts.Add(since + k);
    }
}
