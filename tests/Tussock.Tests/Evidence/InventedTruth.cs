using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Numerics;

namespace Tussock.Tests.Evidence;

/// <summary>A place that is known: how common each class is and what each leaves, drawn without looking at the key; signs of a nest depend on each other.</summary>
internal sealed class InventedTruth
{
    private const double Read = 0.6, NoRemains = 0.15, Together = 0.3;
    private readonly double[][][] tables; // [class][sign][value]
    private readonly Seeded chance;

    public InventedTruth(ulong seed, bool tells = true)
    {
        chance = Seeded.Of(seed);
        var present = 3 + chance.NextBelow(5);
        var classes = Catalogue.Culprits.Length - 1;
        var order = Enumerable.Range(0, classes).Select(k => (k, At: chance.NextUniform())).OrderBy(p => p.At).Select(p => p.k).Take(present).ToArray();
        var weights = new double[classes + 1];
        foreach (var k in order) weights[k] = Math.Pow(Weight(), 1.5);
        weights[classes] = chance.NextUniform() < 0.5 ? 0 : 0.1 * chance.NextUniform() * weights.Sum();
        Shares = Scaled(weights);
        double[][] Table() => [.. Catalogue.Signs.Select(s => s.Values.IsEmpty ? [] : Scaled([.. s.Values.Select(_ => Math.Pow(Weight(), 1.5))]))];
        var same = Table();
        tables = [.. weights.Select(_ => tells ? Table() : same)];
    }

    private static SignCatalogue Catalogue => SignCatalogue.Standard;

    /// <summary>The true chance that a loss is by each class.</summary>
    public double[] Shares { get; }

    /// <summary>A loss that a camera saw, on one of so many lines.</summary>
    public NestEvidence Loss(int lines = 8)
    {
        var truth = Pick(Shares, chance.NextUniform());
        var signs = ImmutableArray.CreateBuilder<SignSeen>();
        var kindOfNest = chance.NextUniform();
        var hasRemains = chance.NextUniform() >= NoRemains;
        for (var s = 0; s < Catalogue.Signs.Length; s++)
        {
            var sign = Catalogue.Signs[s];
            var u = chance.NextUniform() < Together ? kindOfNest : chance.NextUniform();
            var isRead = chance.NextUniform() < Read;
            if (sign.Kind == SignKind.Choice && hasRemains && isRead) signs.Add(new SignSeen(sign.Sign, sign.Values[Pick(tables[truth][s], u)]));
        }

        return new NestEvidence(chance.NextBelow(lines), signs.ToImmutable(), Catalogue.Culprits[truth]);
    }

    public NestEvidence[] Losses(int count) => [.. Enumerable.Range(0, count).Select(_ => Loss())];

    private double Weight() => -Math.Log(1 - chance.NextUniform());

    private static double[] Scaled(double[] weights) => [.. weights.Select(w => w / weights.Sum())];

    private static int Pick(double[] shares, double u)
    {
        for (var k = 0; k < shares.Length; k++) if ((u -= shares[k]) < 0) return k;
        return Array.FindLastIndex(shares, s => s > 0);
    }
}
