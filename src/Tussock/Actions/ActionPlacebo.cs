using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Numerics;

namespace Tussock.Actions;

/// <summary>One placebo run: the action given to other land, or to an earlier year.</summary>
/// <param name="Lands">Land that was taken as if it had the action.</param>
/// <param name="HazardRatio">Hazard with as a multiple of that without; null where the data put it at no finite value.</param>
public sealed record PlaceboRun(ImmutableArray<ActionLand> Lands, double? HazardRatio);

/// <summary>The action taken as if it had been given to other land in the same way, or earlier: how large an effect comes of nothing.</summary>
/// <param name="Runs">Runs with the action on other land.</param>
/// <param name="IsDrawn">Whether they are some of more ways, drawn.</param>
/// <param name="AsLarge">Runs whose effect, up or down, is at least as large as the real one.</param>
/// <param name="P">(1 + as large)/(1 + runs); a reason without runs.</param>
/// <param name="Real">The real effect in the same quick fit, as a ratio of hazards; null where it can't be had.</param>
/// <param name="IsMirrored">Whether to give the action to the others instead is among the runs: it gives the real effect with its sign turned, so that one run is always as large.</param>
/// <param name="Each">The runs.</param>
/// <param name="Earlier">The land that had the action, as if it had come in an earlier year, without the years since: limits from lines.</param>
public sealed record ActionPlacebo(int Runs, bool IsDrawn, int AsLarge, Answer<double> P, double? Real, bool IsMirrored, ImmutableArray<PlaceboRun> Each, ImmutableArray<(string FromYear, Estimate HazardRatio)> Earlier)
{
    /// <summary>The smallest p that so many runs can give.</summary>
    public double SmallestP => (IsMirrored ? 2.0 : 1.0) / (Runs + 1);

    /// <summary>Would the same number come out had the action been taken elsewhere?</summary>
    /// <param name="lands">Land, years and nests of the contrast.</param>
    /// <param name="options">Seed, most runs, level.</param>
    /// <remarks>
    /// The first years with the action are dealt anew over all land, so that every way to deal them is as likely where the action does nothing; a way in which some land would have no year before or none with it is passed over.
    /// Ranks are of the logarithm of the hazard ratio, in fits without intercepts of lines, where land and years are classes as in the whole model.
    /// </remarks>
    /// <source>Randomisation test: Fisher 1935, The Design of Experiments; in-space and in-time placebos: Abadie, Diamond and Hainmueller 2010, Journal of the American Statistical Association 105, 493–505 (both from memory, to be confirmed).</source>
    /// <check>before-after-control</check>
    internal static ActionPlacebo Of(ActionLands lands, ActionOptions options)
    {
        var starts = ActionChanges.Starts(lands.Nests);
        var earlier = FalseStarts(lands, starts, options.Level);
        if (lands.Units.Any(u => u.IsLines)) return new ActionPlacebo(0, false, 0, NoAnswer.Because("action.placebo_lines"), null, false, [], earlier);
        var cells = ByCell(lands.Nests);
        var (ways, isDrawn) = ActionDeals.Of(starts, lands.Nests, options);
        var real = Log(cells.AsIf(starts));
        var runs = new double?[ways.Length];
        var done = 0;
        Ordered.For(runs.Length, i =>
        {
            runs[i] = Log(cells.AsIf(ways[i]));
            options.Progress?.Invoke((double)Interlocked.Increment(ref done) / runs.Length);
        }, options.Cancel);
        // The digits of a search are no difference.
        var asLarge = runs.Count(r => r is not { } log || real is not { } own || Math.Abs(log) >= Math.Abs(own) - 1e-9);
        Answer<double> p = ways.Length == 0 ? NoAnswer.Because("action.no_placebo") : real is null ? NoAnswer.Because("action.placebo_no_end") : (1.0 + asLarge) / (1 + ways.Length);
        return new ActionPlacebo(ways.Length, isDrawn, asLarge, p, Ratio(real), !isDrawn && ways.Any(w => IsMirror(w, starts)), [.. ways.Zip(runs, (w, r) => new PlaceboRun([.. lands.Units.Where((_, u) => w[u] is not null)], Ratio(r)))], earlier);
    }

    /// <summary>Whether a way gives the one start there is to all other land.</summary>
    private static bool IsMirror(int?[] way, int?[] starts) => starts.OfType<int>().Distinct().Count() == 1 && way.Zip(starts).All(s => s.First is null != s.Second is null);

    private static double? Ratio(double? log) => log is { } value && double.IsFinite(Math.Exp(value)) ? Math.Exp(value) : null;

    private static double? Log(ActionNests nests)
    {
        var fit = EffectsFit.Of(nests.Table(), Link.LogHazard);
        return fit.HasValue ? fit.Value.Coefficients[^1].Independent.Value : null;
    }

    /// <summary>The same nests with each land and year as a group: without intercepts of lines the grouping says nothing, and the table is small.</summary>
    private static ActionNests ByCell(ActionNests nests)
    {
        int[] order = [.. Enumerable.Range(0, nests.Nests.Count).OrderBy(r => (nests.Unit[r], nests.Year[r]))];
        int[] year = [.. order.Select(r => nests.Year[r])], unit = [.. order.Select(r => nests.Unit[r])];
        var rows = nests.Nests.Rows(order);
        var cells = Enumerable.Range(0, nests.Units * nests.Years);
        return nests with
        {
            Nests = new NestSpans
            {
                LastIntact = rows.LastIntact, FirstLost = rows.FirstLost, LostAt = rows.LostAt, Line = [.. order.Select((_, i) => (unit[i] * nests.Years) + year[i])], Transect = rows.Transect, Nest = rows.Nest,
                Cover = rows.Cover, Pasture = rows.Pasture, Cause = rows.Cause, Day14 = rows.Day14, Day28 = rows.Day28, LineNames = [.. cells.Select(c => Words.Numbers.Whole(c))], CoverNames = rows.CoverNames,
            },
            Year = year,
            Unit = unit,
            IsWith = [.. order.Select(r => nests.IsWith[r])],
        };
    }

    /// <summary>False starts: every year that leaves each piece of land with the action a year before and one after, before its real start.</summary>
    private static ImmutableArray<(string FromYear, Estimate HazardRatio)> FalseStarts(ActionLands lands, int?[] starts, double level)
    {
        var nests = lands.Nests.Where(r => !lands.Nests.IsWith[r]);
        var list = ImmutableArray.CreateBuilder<(string, Estimate)>();
        for (var year = 1; year < nests.Years; year++)
        {
            var start = year;
            bool Has(int unit, Func<int, bool> when) => Enumerable.Range(0, nests.Nests.Count).Any(r => nests.Unit[r] == unit && when(nests.Year[r]) && nests.Nests.IsWatched(r));
            var treated = Enumerable.Range(0, nests.Units).Where(u => starts[u] is not null).ToArray();
            if (!treated.All(u => Has(u, y => y < start) && Has(u, y => y >= start))) continue;
            var fit = ActionFit.Of(nests.AsIf([.. starts.Select(s => s is null ? (int?)null : start)]), level);
            if (fit.HasValue) list.Add((lands.Years[year], fit.Value.Ratio));
        }

        return list.ToImmutable();
    }
}
