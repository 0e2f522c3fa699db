using Tussock.Fates;

namespace Tussock.Survival;

/// <summary>Survivors and nests of known fate by line, and their sums: what a counted share is made of.</summary>
internal sealed class LineCounts
{
    private readonly List<(int Survived, int Known)> lines = [];

    private LineCounts()
    {
    }

    /// <summary>Lines with at least one nest of known fate.</summary>
    public int Lines => lines.Count;

    /// <summary>Nests of known fate.</summary>
    public int Known { get; private set; }

    /// <summary>Nests that survived.</summary>
    public int Survived { get; private set; }

    /// <summary>Share that survived; asked only when a fate is known.</summary>
    public double Share => (double)Survived / Known;

    /// <summary>Whether every line has the same share, in whole numbers: in floating point the variance could be 1e−34 instead of 0.</summary>
    public bool Alike => lines.TrueForAll(g => (long)g.Survived * Known == (long)g.Known * Survived);

    /// <summary>Variance of the ratio of totals between lines, m/(m − 1)·Σ(y − p·n)²/(Σn)².</summary>
    public double Variance
    {
        get
        {
            double p = Share, sum = 0, m = Lines;
            foreach (var (y, n) in lines) sum += (y - p * n) * (y - p * n);
            return m / (m - 1) * sum / ((double)Known * Known);
        }
    }

    /// <summary>Whether the lines' numbers of known fates differ more than twofold.</summary>
    public bool DifferTwofold => lines.Max(g => g.Known) > 2 * lines.Min(g => g.Known);

    /// <summary>Plain mean of the lines' shares.</summary>
    public double MeanOfLines => lines.Average(g => (double)g.Survived / g.Known);

    /// <summary>Takes counts that are there already, a row a line.</summary>
    public static LineCounts Of(IEnumerable<(int Survived, int Known)> lines)
    {
        var counts = new LineCounts();
        foreach (var line in lines.Where(l => l.Known > 0))
        {
            counts.lines.Add(line);
            counts.Known += line.Known;
            counts.Survived += line.Survived;
        }

        return counts;
    }

    /// <summary>Counts the fates of nests whose rows of a line stand together.</summary>
    public static LineCounts Of(NestSpans nests, FateAt[] fates)
    {
        var counts = new LineCounts();
        var line = -1;
        for (var row = 0; row < nests.Count; row++)
        {
            if (fates[row] == FateAt.Unknown) continue;
            if (nests.Line[row] != line) counts.lines.Add((0, 0));
            line = nests.Line[row];
            var survived = fates[row] == FateAt.Survived ? 1 : 0;
            var (y, n) = counts.lines[^1];
            counts.lines[^1] = (y + survived, n + 1);
            counts.Known++;
            counts.Survived += survived;
        }

        return counts;
    }
}
