using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Survival;

namespace Tussock.Bench;

/// <summary>Survival to day 28 by one constant rate, fitted again to whole lines drawn with replacement.</summary>
internal sealed class LineResampling
{
    private readonly NestSpans nests;
    private readonly int[] starts;

    internal LineResampling(NestSpans nests)
    {
        this.nests = nests;
        starts = [.. Enumerable.Range(0, nests.Count).Where(row => row == 0 || nests.Line[row] != nests.Line[row - 1]), nests.Count];
    }

    internal double SdOfSurvival28(int resamples, ulong seed)
    {
        var survival = new double[resamples];
        Ordered.For(resamples, r => survival[r] = Math.Pow(DailySurvival.Of(nests.Rows(Drawn(Seeded.Of(seed, (ulong)r + 1)))).Value!.Value, 28));
        var mean = survival.Average();
        return Math.Sqrt(survival.Sum(s => (s - mean) * (s - mean)) / (resamples - 1));
    }

    /// <summary>Rows of as many lines as there are, drawn with replacement, in order of lines.</summary>
    private int[] Drawn(Seeded chance)
    {
        var times = new int[starts.Length - 1];
        for (var l = 0; l < times.Length; l++) times[chance.NextBelow(times.Length)]++;
        var rows = new List<int>(nests.Count);
        for (var l = 0; l < times.Length; l++)
            for (var t = 0; t < times[l]; t++)
                for (var row = starts[l]; row < starts[l + 1]; row++) rows.Add(row);
        return [.. rows];
    }
}
