using System.Collections.Immutable;
using Tussock.Fates;

namespace Tussock.Cover;

/// <summary>The lines that can tell of parity: their log density, and which cover classes stand together as "other".</summary>
internal sealed class ParityLines
{
    private readonly double[] logs;
    private readonly ImmutableArray<bool> other;

    /// <param name="nests">The nests.</param>
    /// <param name="isOther">For each cover class, by index, whether it is no grass.</param>
    /// <param name="perAcre">Suitable clumps an acre by the name of the line, &gt; 0.</param>
    public ParityLines(NestSpans nests, ImmutableArray<bool> isOther, IReadOnlyDictionary<string, double> perAcre)
    {
        other = isOther;
        logs = [.. nests.LineNames.Select(name => perAcre.TryGetValue(name, out var density) ? Math.Log(density) : double.NaN)];
        Used = nests.Where(row => nests.IsWatched(row) && !double.IsNaN(logs[nests.Line[row]]));
        WithoutBelt = Enumerable.Range(0, nests.Count).Count(row => nests.IsWatched(row) && double.IsNaN(logs[nests.Line[row]]));
        var walked = Enumerable.Range(0, Used.Count).Select(row => logs[Used.Line[row]]).ToArray();
        (Least, Most) = walked.Length == 0 ? (0, 0) : (walked.Min(), walked.Max());
    }

    /// <summary>Watched nests on lines with a belt.</summary>
    public NestSpans Used { get; }

    /// <summary>Watched nests on lines without one.</summary>
    public int WithoutBelt { get; }

    /// <summary>Smallest log density walked.</summary>
    public double Least { get; }

    /// <summary>Largest log density walked.</summary>
    public double Most { get; }

    /// <summary>Log density of a line.</summary>
    public double Log(int line) => logs[line];

    /// <summary>Whether a cover class is no grass.</summary>
    public bool IsOther(int cover) => other[cover];

    /// <summary>Whether both roles are there.</summary>
    public bool HasBoth => Enumerable.Range(0, Used.Count).Any(row => other[Used.Cover[row]]) && Enumerable.Range(0, Used.Count).Any(row => !other[Used.Cover[row]]);
}
