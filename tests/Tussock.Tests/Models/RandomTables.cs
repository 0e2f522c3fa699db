using System.Globalization;
using Tussock.Models;
using Tussock.Numerics;

namespace Tussock.Tests.Models;

/// <summary>Invented tables of every shape: losses of one and of several pieces, timed losses, weights, offsets.</summary>
public static class RandomTables
{
    public static readonly string[] Columns = ["(Intercept)", "cover", "density", "age"];

    public static ModelTable Of(ulong seed, int groups = 4)
    {
        var chance = Seeded.Of(seed);
        var maker = new ModelTableMaker([.. Columns]);
        for (var g = 0; g < groups; g++)
        {
            maker.Group("line " + g.ToString(CultureInfo.InvariantCulture));
            for (var n = 0; n < 6; n++) Nest(maker, chance);
        }

        return maker.Table();
    }

    /// <summary>One group of a table as a table of its own.</summary>
    public static ModelTable Only(ModelTable table, int group)
    {
        var maker = new ModelTableMaker(table.Columns);
        maker.Group(table.GroupNames[group]);
        var from = table.GroupPatterns[group];
        for (var p = from; p < table.GroupPatterns[group + 1]; p++)
        {
            var place = maker.Pattern(table.Row(p), table.Offset[p]);
            maker.Watched(place, table.Watched[p]);
            maker.LostAt(place, table.Timed[p]);
        }

        for (var loss = table.GroupLosses[group]; loss < table.GroupLosses[group + 1]; loss++)
            maker.LostWithin([.. Enumerable.Range(table.LossPieces[loss], table.LossPieces[loss + 1] - table.LossPieces[loss]).Select(q => (table.PiecePattern[q] - from, table.PieceDays[q]))], table.LossWeight[loss]);
        return maker.Table();
    }

    private static void Nest(ModelTableMaker maker, Seeded chance)
    {
        double cover = chance.NextBelow(2), density = 4 * chance.NextUniform() - 2, offset = chance.NextUniform() - 0.5, weight = 0.5 + chance.NextUniform();
        var early = maker.Pattern([1, cover, density, 0], offset);
        var late = maker.Pattern([1, cover, density, 1], offset);
        double first = 1 + 20 * chance.NextUniform(), second = 1 + 20 * chance.NextUniform();
        maker.Nests++;
        maker.Intervals += 2;
        switch (chance.NextBelow(5))
        {
            case 0: maker.LostWithin(early, first, weight); break;
            case 1: maker.LostWithin([(early, first), (late, second)], weight); break;
            case 2:
                maker.Watched(early, first, weight);
                maker.LostAt(early, weight);
                break;
            case 3:
                maker.Watched(early, first, weight);
                maker.LostWithin(late, second, weight);
                break;
            default:
                maker.Watched(early, first, weight);
                maker.Watched(late, second, weight);
                break;
        }
    }
}
