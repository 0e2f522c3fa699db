using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>One line's losses in walking order, and the runs that chance would make of them. May be shared between threads.</summary>
public sealed class LineOfLosses
{
    private LineOfLosses(int transect, int pasture, int nests) => (Transect, Pasture, Nests) = (transect, pasture, nests);

    /// <summary>Index of the transect.</summary>
    public int Transect { get; }

    /// <summary>Index of the pasture.</summary>
    public int Pasture { get; }

    /// <summary>Nests of known fate.</summary>
    public int Nests { get; }

    /// <summary>Lost nests among them.</summary>
    public int Lost { get; private init; }

    /// <summary>Changes of fate along the line + 1.</summary>
    public int Runs { get; private init; }

    /// <summary>Runs that chance would make, on average.</summary>
    public double Expected { get; private init; }

    /// <summary>Whether some cover class on the line has both lost and intact nests; elsewhere only one arrangement exists.</summary>
    public bool IsInformative { get; private init; }

    /// <summary>P(R = r) by r, when counted exactly.</summary>
    internal double[]? Distribution { get; private init; }

    /// <summary>Runs of each drawn arrangement, when they can't be counted.</summary>
    internal int[]? Drawn { get; private init; }

    internal static LineOfLosses Of(int transect, int pasture, bool[] lost, int[] cover, RunsDistribution distribution, ulong seed)
    {
        var classes = new ClassesOnLine(lost, cover);
        var informative = classes.AreInformative;
        var exact = lost.Length <= RunsTest.LongestExact && classes.Count <= RunsTest.MostClassesExact;
        return new LineOfLosses(transect, pasture, lost.Length)
        {
            Lost = lost.Count(l => l),
            Runs = RunsIn(lost),
            Expected = ExpectedRuns(classes),
            IsInformative = informative,
            Distribution = informative && exact ? distribution.Of(classes) : null,
            Drawn = informative && !exact ? Draw(lost, classes, Seeded.Of(seed, (ulong)transect + 1)) : null,
        };
    }

    internal static int RunsIn(ReadOnlySpan<bool> lost)
    {
        var runs = 1;
        for (var i = 1; i < lost.Length; i++) if (lost[i] != lost[i - 1]) runs++;
        return runs;
    }

    /// <summary>1 + the sum over neighbours of the chance that they differ: without replacement within a class, independent between classes.</summary>
    private static double ExpectedRuns(ClassesOnLine classes)
    {
        double sum = 1;
        for (var i = 1; i < classes.Of.Length; i++)
        {
            var (a, b) = (classes.Of[i - 1], classes.Of[i]);
            double n = classes.Nests[a], k = classes.Lost[a], p = k / n, q = (double)classes.Lost[b] / classes.Nests[b];
            sum += a == b ? 2 * k * (n - k) / (n * (n - 1)) : (p * (1 - q)) + (q * (1 - p));
        }

        return sum;
    }

    private static int[] Draw(bool[] lost, ClassesOnLine classes, Seeded chance)
    {
        var places = Enumerable.Range(0, classes.Count).Select(c => Enumerable.Range(0, lost.Length).Where(i => classes.Of[i] == c).ToArray()).ToArray();
        var arrangement = (bool[])lost.Clone();
        var runs = new int[RunsTest.Permutations];
        for (var d = 0; d < runs.Length; d++)
        {
            foreach (var place in places)
            {
                for (var i = place.Length - 1; i > 0; i--)
                {
                    var j = chance.NextBelow(i + 1);
                    (arrangement[place[i]], arrangement[place[j]]) = (arrangement[place[j]], arrangement[place[i]]);
                }
            }

            runs[d] = RunsIn(arrangement);
        }

        return runs;
    }
}

/// <summary>The cover classes met on one line, numbered from 0 as they are met, with their nests and losses.</summary>
internal sealed class ClassesOnLine
{
    internal ClassesOnLine(bool[] lost, int[] cover)
    {
        var met = cover.Distinct().ToArray();
        Of = Array.ConvertAll(cover, c => Array.IndexOf(met, c));
        (Nests, Lost) = (new int[met.Length], new int[met.Length]);
        for (var i = 0; i < Of.Length; i++)
        {
            Nests[Of[i]]++;
            if (lost[i]) Lost[Of[i]]++;
        }
    }

    /// <summary>Class of each nest along the line.</summary>
    internal int[] Of { get; }

    /// <summary>Nests of each class.</summary>
    internal int[] Nests { get; }

    /// <summary>Lost nests of each class.</summary>
    internal int[] Lost { get; }

    internal int Count => Nests.Length;

    internal bool AreInformative => Nests.Where((n, c) => Lost[c] > 0 && Lost[c] < n).Any();
}
