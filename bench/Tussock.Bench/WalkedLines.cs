using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Numerics;

namespace Tussock.Bench;

/// <summary>How invented lines are: their size, what acts on loss, and how nests are visited.</summary>
internal sealed record LinesPlan
{
    internal int Lines { get; init; } = 12;

    internal int NestsALine { get; init; } = 12;

    /// <summary>Log daily loss of grass at the usual density, and its changes by cover, by log density, and by both together.</summary>
    internal double Grass { get; init; } = -3.9;

    internal double Cover { get; init; } = -0.6;

    internal double Density { get; init; }

    internal double CoverByDensity { get; init; }

    internal double Concealment { get; init; }

    /// <summary>Standard deviation between lines.</summary>
    internal double Sd { get; init; } = 0.5;

    /// <summary>Whole days by which a check may come early or late.</summary>
    internal int Jitter { get; init; }

    /// <summary>Whether checks come at any moment of those days, so that no two nests share one.</summary>
    internal bool IsUntied { get; init; }

    /// <summary>Share of checks that did not find the nest again.</summary>
    internal double Missed { get; init; }
}

/// <summary>Nests on invented lines, visit by visit, with a truth that is known: cover alternates along the line.</summary>
internal sealed class WalkedLines
{
    /// <summary>Log of clumps an acre that counts as 0 in the truth.</summary>
    internal static readonly double UsualDensity = Math.Log(300);

    private static readonly ImmutableArray<string> Covers = ["grass", "cactus"];

    private readonly List<double> lastIntact = [], firstLost = [], concealment = [], density = [];
    private readonly List<int> line = [], cover = [], nest = [];

    private WalkedLines()
    {
    }

    /// <summary>One row an interval between checks that found the nest.</summary>
    internal List<(int Nest, double Days, bool IsLost)> Intervals { get; } = [];

    internal int Nests => line.Count;

    /// <summary>Walks the lines of a plan by one stream of chance.</summary>
    internal static WalkedLines Of(LinesPlan plan, Seeded chance)
    {
        var walked = new WalkedLines();
        for (var l = 0; l < plan.Lines; l++)
        {
            double shift = plan.Sd * chance.NextNormal(), x = Math.Round(0.6 * chance.NextNormal(), 3);
            walked.density.Add(x);
            for (var n = 0; n < plan.NestsALine; n++)
            {
                var isCactus = (l + n) % 2;
                var hidden = Math.Round(Math.Clamp(55 + (10 * isCactus) + (18 * chance.NextNormal()), 0, 100));
                var log = plan.Grass + shift + ((plan.Density + (plan.CoverByDensity * isCactus)) * x) + (plan.Cover * isCactus) + (plan.Concealment * (hidden - 60));
                walked.Watch(plan, chance, -Math.Log(1 - chance.NextUniform()) / Math.Exp(log));
                walked.line.Add(l);
                walked.cover.Add(isCactus);
                walked.nest.Add(n + 1);
                walked.concealment.Add(hidden);
            }
        }

        return walked;
    }

    private void Watch(LinesPlan plan, Seeded chance, double lost)
    {
        double before = 0, found = double.PositiveInfinity;
        foreach (var planned in (int[])[14, 28])
        {
            double off = plan.IsUntied ? plan.Jitter * ((2 * chance.NextUniform()) - 1) : chance.NextBelow((2 * plan.Jitter) + 1) - plan.Jitter, day = planned + off;
            if (chance.NextUniform() < plan.Missed) continue;
            Intervals.Add((Nests, day - before, lost <= day));
            if (lost <= day) found = day;
            else before = day;
            if (lost <= day) break;
        }

        lastIntact.Add(before);
        firstLost.Add(found);
    }

    /// <summary>Clumps an acre by name of the line, as walked.</summary>
    internal Dictionary<string, double> PerAcre() => Enumerable.Range(0, density.Count).ToDictionary(Name, l => Math.Exp(density[l] + UsualDensity), StringComparer.Ordinal);

    /// <summary>The table of a model with these effects of a nest, a group a line, made from the intervals.</summary>
    internal ModelTable Table(params ReadOnlySpan<string> effects)
    {
        var maker = new ModelTableMaker(["intercept", .. effects]);
        var x = new double[1 + effects.Length];
        var group = -1;
        foreach (var (row, days, isLost) in Intervals)
        {
            if (line[row] != group) maker.Group(Name(group = line[row]));
            x[0] = 1;
            for (var e = 0; e < effects.Length; e++) x[e + 1] = Effect(effects[e], row);
            var pattern = maker.Pattern(x);
            if (isLost) maker.LostWithin(pattern, days);
            else maker.Watched(pattern, days);
            maker.Intervals++;
        }

        maker.Nests = Nests;
        return maker.Table();
    }

    internal double Effect(string name, int row) => name switch
    {
        "cover" => cover[row],
        "density" => density[line[row]],
        _ => concealment[row],
    };

    internal int Line(int row) => line[row];

    internal (double LastIntact, double FirstLost) Bounds(int row) => (lastIntact[row], firstLost[row]);

    /// <summary>The nests as estimators without a model want them.</summary>
    internal NestSpans Spans() => new()
    {
        LastIntact = [.. lastIntact],
        FirstLost = [.. firstLost],
        LostAt = Filled(double.NaN),
        Line = [.. line],
        Transect = [.. line],
        Nest = [.. nest],
        Cover = [.. cover],
        Pasture = Filled(0),
        Cause = Filled(Cause.None),
        Day14 = Filled(FateAt.Unknown),
        Day28 = Filled(FateAt.Unknown),
        LineNames = [.. Enumerable.Range(0, density.Count).Select(Name)],
        CoverNames = Covers,
    };

    private T[] Filled<T>(T value)
    {
        var all = new T[Nests];
        Array.Fill(all, value);
        return all;
    }

    private static string Name(int line) => "L" + line.ToString(System.Globalization.CultureInfo.InvariantCulture);
}
