using Tussock.Models;
using Tussock.Numerics;

namespace Tussock.Tests.Models;

/// <summary>Model tables made from a seed, with every kind of row: intact days, losses of one piece and of several, timed losses, weights, offsets.</summary>
public static class InventedTables
{
    /// <summary>A table of mixed rows.</summary>
    /// <param name="seed">Seed.</param>
    /// <param name="groups">Groups.</param>
    /// <param name="nests">Nests a group.</param>
    /// <param name="spread">Standard deviation of the groups' intercepts on the log hazard.</param>
    /// <param name="mixed">Whether some losses come in pieces, some are timed, some weigh other than 1.</param>
    /// <param name="split">Whether intact intervals are cut in two rows.</param>
    public static ModelTable Of(ulong seed, int groups, int nests, double spread = 0.6, bool mixed = true, bool split = false)
    {
        var maker = new ModelTableMaker(["(Intercept)", "other", "x"]);
        foreach (var (name, rows) in Groups(seed, groups, nests, spread, mixed))
        {
            maker.Group(name);
            foreach (var row in rows) row.Add(maker, split);
        }

        return maker.Table();
    }

    /// <summary>The groups of such a table, before they are added up.</summary>
    public static List<(string Name, List<InventedNest> Nests)> Groups(ulong seed, int groups, int nests, double spread, bool mixed)
    {
        var random = Seeded.Of(seed);
        var all = new List<(string, List<InventedNest>)>();
        for (var g = 0; g < groups; g++)
        {
            var shift = spread * random.NextNormal();
            var list = new List<InventedNest>();
            for (var i = 0; i < nests; i++)
            {
                double other = random.NextBelow(2), x = random.NextNormal(), offset = mixed && random.NextBelow(4) == 0 ? 0.3 : 0;
                var day = -Math.Log(1 - random.NextUniform()) / Math.Exp(-3.3 + shift - 0.6 * other + 0.3 * x);
                list.Add(new InventedNest(other, x, offset, day, mixed ? random.NextBelow(5) : 0));
            }

            all.Add(($"L{g}", list));
        }

        return all;
    }
}

/// <summary>One invented nest: checks on day 14 and 28.</summary>
/// <param name="Other">Cover class.</param>
/// <param name="X">A covariate.</param>
/// <param name="Offset">Offset.</param>
/// <param name="Lost">Day of the loss.</param>
/// <param name="Kind">0 and 1: one piece; 2: the covariate changes on the way; 3: a camera; 4: weight 1.5.</param>
public readonly record struct InventedNest(double Other, double X, double Offset, double Lost, int Kind)
{
    /// <summary>Adds the nest to a table.</summary>
    public void Add(ModelTableMaker maker, bool split)
    {
        var p = maker.Pattern([1, Other, X], Offset);
        var weight = Kind == 4 ? 1.5 : 1;
        maker.Nests++;
        maker.Intervals += Lost < 14 ? 1 : 2;
        var intact = Lost < 14 ? 0 : Lost < 28 ? 14 : 28;
        if (Kind == 3 && Lost < 28)
        {
            maker.Watched(p, Lost);
            maker.LostAt(p);
            return;
        }

        if (intact > 0 && split) maker.Watched(p, 3, weight);
        if (intact > 0) maker.Watched(p, split ? intact - 3 : intact, weight);
        if (intact == 28) return;
        if (Kind == 2) maker.LostWithin([(p, 5), (maker.Pattern([1, Other, X + 1], Offset), 9)], weight);
        else maker.LostWithin(p, 14, weight);
    }
}
