using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Actions;

/// <summary>The second answer: each piece of land is one number, its change of survival; the numbers with and without the action are compared as two samples.</summary>
internal static class ActionChanges
{
    /// <summary>Share of unknown fates beyond which land in a year is left out.</summary>
    private const double MostUnknown = 1.0 / 3;

    /// <summary>The method, a fixed English token.</summary>
    public const string Method = "difference of mean changes of counted survival, one number a pasture, Welch t";

    /// <summary>Rounds of adjusting years and land in turn; a handful is enough where most pastures have most years.</summary>
    private const int Rounds = 100;

    /// <summary>By how much more did survival change with the action than without?</summary>
    /// <param name="nests">The nests.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>Difference of mean changes on the survival scale; without a number, and with a reason, where fewer than two pieces of land have the action or fewer than two have none.</returns>
    /// <remarks>
    /// Survival of a land in a year is the share of nests of known fate that are whole at the end of the trial. Years are taken out by the additive fit of land and year to what is without the action.
    /// The change of a land with the action is its mean with minus its mean before; that of a land without is the mean of the same for every start there was.
    /// Whatever luck a land has in a year is in these numbers, so it is in their spread: this is what the grouped model can't know.
    /// </remarks>
    /// <source>Welch 1947, Biometrika 34, 28–35 (from memory, to be confirmed); one number a unit: common practice, no source.</source>
    /// <check>before-after-control</check>
    public static Estimate Of(ActionNests nests, double level = 0.95)
    {
        var cells = Cells(nests);
        var starts = Starts(nests);
        var of = cells.Keys.Select(c => c.Unit).Distinct().Order().ToArray();
        var years = YearEffects(cells, of.Where(u => starts[u] is null).ToHashSet());
        double[] treated = [.. of.Where(u => starts[u] is not null).Select(u => Change(cells, years, u, starts[u]!.Value)).OfType<double>()];
        var given = starts.OfType<int>().ToArray();
        double[] untreated = [.. of.Where(u => starts[u] is null).Select(u => Mean([.. given.Select(s => Change(cells, years, u, s)).OfType<double>()])).OfType<double>()];
        if (treated.Length < 2 || untreated.Length < 2) return Estimate.None(Method, Phrase.Of("action.few_lands", ("treated", treated.Length), ("untreated", untreated.Length))) with { Level = level };
        return Welch(treated, untreated, level);
    }

    /// <summary>The first year with the action of each piece of land.</summary>
    public static int?[] Starts(ActionNests nests)
    {
        var starts = new int?[nests.Units];
        for (var row = 0; row < nests.Nests.Count; row++)
            if (nests.IsWith[row] && !(starts[nests.Unit[row]] <= nests.Year[row])) starts[nests.Unit[row]] = nests.Year[row];
        return starts;
    }

    /// <summary>Land and years of which enough fates are known for a share: while a season is under way only its lost nests are.</summary>
    internal static HashSet<(int Unit, int Year)> Told(ActionNests nests) =>
        [.. Enumerable.Range(0, nests.Nests.Count).GroupBy(r => (nests.Unit[r], nests.Year[r])).Where(g => g.Count(r => nests.Nests.Day28[r] == FateAt.Unknown) <= MostUnknown * g.Count()).Select(g => g.Key)];

    private static Dictionary<(int Unit, int Year), double> Cells(ActionNests nests)
    {
        var told = Told(nests);
        return Enumerable.Range(0, nests.Nests.Count).Where(r => nests.Nests.Day28[r] != FateAt.Unknown).GroupBy(r => (nests.Unit[r], nests.Year[r])).Where(g => told.Contains(g.Key))
            .ToDictionary(g => g.Key, g => g.Average(r => nests.Nests.Day28[r] == FateAt.Survived ? 1.0 : 0.0));
    }

    private static Dictionary<int, double> YearEffects(Dictionary<(int Unit, int Year), double> cells, HashSet<int> untreated)
    {
        var own = cells.Where(c => untreated.Contains(c.Key.Unit)).OrderBy(c => c.Key).ToArray();
        var years = own.Select(c => c.Key.Year).Distinct().ToDictionary(y => y, _ => 0.0);
        for (var round = 0; round < Rounds; round++)
        {
            var lands = own.GroupBy(c => c.Key.Unit).ToDictionary(g => g.Key, g => g.Average(c => c.Value - years[c.Key.Year]));
            foreach (var year in own.GroupBy(c => c.Key.Year)) years[year.Key] = year.Average(c => c.Value - lands[c.Key.Unit]);
        }

        return years;
    }

    private static double? Change(Dictionary<(int Unit, int Year), double> cells, Dictionary<int, double> years, int unit, int start)
    {
        var own = cells.Where(c => c.Key.Unit == unit && years.ContainsKey(c.Key.Year)).OrderBy(c => c.Key).Select(c => (c.Key.Year, Value: c.Value - years[c.Key.Year])).ToArray();
        return Mean([.. own.Where(c => c.Year >= start).Select(c => c.Value)]) - Mean([.. own.Where(c => c.Year < start).Select(c => c.Value)]);
    }

    private static double? Mean(double[] values) => values.Length == 0 ? null : values.Average();

    private static Estimate Welch(double[] treated, double[] untreated, double level)
    {
        var (a, b) = (Variance(treated) / treated.Length, Variance(untreated) / untreated.Length);
        var difference = treated.Average() - untreated.Average();
        var bare = new Estimate { Value = difference, Level = level, Method = Method };
        if (!(a + b > 1e-20)) return bare with { Why = Phrase.Of("action.changes_alike") };
        var degrees = (a + b) * (a + b) / ((a * a / (treated.Length - 1)) + (b * b / (untreated.Length - 1)));
        var (se, reach) = (Math.Sqrt(a + b), Tails.StudentQuantile((1 + level) / 2, degrees) * Math.Sqrt(a + b));
        return bare with { Se = se, Low = Math.Max(-2, difference - reach), High = Math.Min(2, difference + reach) };
    }

    private static double Variance(double[] values)
    {
        var mean = values.Average();
        return values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1);
    }
}
