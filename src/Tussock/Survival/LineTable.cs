using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>The likelihoods of all lines of a group, each divided by its peak, on a table u = k·h.</summary>
/// <remarks>
/// A line's likelihood depends on mean β, sd τ and line effect z through u = β + τz alone, so one table serves every (β, τ):
/// the integral over z is a weighted sum (<see cref="NormalWeights"/>). Sums run in sixteen fixed lanes: the same bits on every width of processor.
/// </remarks>
internal sealed class LineTable
{
    /// <summary>The smallest likelihood that is told from 0.</summary>
    private const double Least = 1e-150;

    private readonly Row[] rows;
    private readonly double[] values;
    private readonly int first;
    private readonly int last;
    private readonly bool hasFlat;
    private readonly double informativeFrom;
    private readonly double informativeTo;

    /// <summary>Fills the table.</summary>
    /// <param name="lines">Lines in the order of their content, neighbours that are equal counted together.</param>
    /// <param name="h">Spacing.</param>
    /// <param name="from">Smallest u that will be asked for.</param>
    /// <param name="to">Largest u.</param>
    public LineTable(IReadOnlyList<(LineLikelihood Line, int Times)> lines, double h, double from, double to)
    {
        Spacing = h;
        (informativeFrom, informativeTo) = Informative(lines);
        first = (int)Math.Floor(Math.Max(from, informativeFrom) / h) - NormalWeights.Margin;
        last = Math.Max(first, (int)Math.Ceiling(Math.Min(to, informativeTo) / h) + NormalWeights.Margin);
        rows = new Row[lines.Count];
        var room = 0;
        for (var g = 0; g < rows.Length; g++)
        {
            var (line, times) = lines[g];
            var low = line.From * (1 / h) > first ? (int)Math.Min(Math.Floor(line.From / h), last + 1) : first;
            var high = line.To * (1 / h) < last ? (int)Math.Max(Math.Ceiling(line.To / h), first - 1) : last;
            var count = Math.Max(0, high - low + 1);
            rows[g] = new Row(low, count, room, times, double.IsNegativeInfinity(line.From) ? 1 : 0, double.IsPositiveInfinity(line.To) ? 1 : 0);
            room += count;
            hasFlat |= rows[g].FlatBelow + rows[g].FlatAbove > 0;
        }

        values = new double[room];
        Fill(lines);
    }

    /// <summary>h.</summary>
    public double Spacing { get; }

    /// <summary>Whether the table serves all u from <paramref name="from"/> to <paramref name="to"/>.</summary>
    public bool Covers(double from, double to) =>
        Math.Floor(Math.Max(from, informativeFrom) / Spacing) - NormalWeights.Margin >= first && Math.Ceiling(Math.Min(to, informativeTo) / Spacing) + NormalWeights.Margin <= last;

    /// <summary>Log-likelihood of all lines, each beside its peak, at mean β and sd τ.</summary>
    /// <param name="beta">β.</param>
    /// <param name="sd">τ.</param>
    /// <param name="isNarrow">Whether the normal is narrower than the table's spacing.</param>
    /// <param name="weights">Scratch.</param>
    public double LogLikelihood(double beta, double sd, bool isNarrow, NormalWeights weights)
    {
        if (isNarrow) weights.Interpolated(beta, sd, Spacing, first, last);
        else weights.Trapezoid(beta, sd, Spacing, first, last, hasFlat);
        return LogLikelihood(weights);
    }

    /// <summary>Σ over lines of the log of the line's mean likelihood under the weights, beside its peak.</summary>
    private double LogLikelihood(NormalWeights weights)
    {
        var w = weights.Values;
        double sum = 0, product = 1;
        foreach (ref readonly var row in rows.AsSpan())
        {
            var low = Math.Max(row.First, weights.First);
            var count = Math.Min(row.First + row.Count, weights.First + w.Length) - low;
            var mean = (row.FlatBelow * weights.Below) + (row.FlatAbove * weights.Above);
            if (count > 0) mean += Dot(values.AsSpan(row.Start + low - row.First, count), w.Slice(low - weights.First, count));
            mean = Math.Max(mean, Least);
            if (row.Times > 1) sum += row.Times * Math.Log(mean);
            else product *= mean;
            if (product > Least) continue;
            sum += Math.Log(product);
            product = 1;
        }

        return sum + Math.Log(product);
    }

    /// <summary>Outside these u every line's likelihood is 0 or at its upper end, 1.</summary>
    private static (double From, double To) Informative(IReadOnlyList<(LineLikelihood Line, int Times)> lines)
    {
        double from = double.PositiveInfinity, to = double.NegativeInfinity;
        foreach (var (line, _) in lines)
        {
            from = Math.Min(from, line.FlatBelow);
            to = Math.Max(to, line.FlatAbove);
        }

        return (from, Math.Max(from, to));
    }

    /// <summary>Sixteen sums side by side, since one addition would wait for the other; compiled at full speed at once, since it is most of the work.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        var x = MemoryMarshal.Cast<double, Vector256<double>>(a);
        var y = MemoryMarshal.Cast<double, Vector256<double>>(b)[..x.Length];
        Vector256<double> one = default, two = default, three = default, four = default;
        var i = 0;
        for (; i + 3 < x.Length; i += 4)
        {
            one += x[i] * y[i];
            two += x[i + 1] * y[i + 1];
            three += x[i + 2] * y[i + 2];
            four += x[i + 3] * y[i + 3];
        }

        for (; i < x.Length; i++) one += x[i] * y[i];
        var sum = Vector256.Sum(one + two + (three + four));
        for (i = 4 * x.Length; i < a.Length; i++) sum += a[i] * b[i];
        return sum;
    }

    private void Fill(IReadOnlyList<(LineLikelihood Line, int Times)> lines)
    {
        var hazards = new double[last - first + 1];
        for (var i = 0; i < hazards.Length; i++) hazards[i] = Math.Exp((first + i) * Spacing);
        for (var g = 0; g < rows.Length; g++)
        {
            var line = lines[g].Line;
            var row = values.AsSpan(rows[g].Start, rows[g].Count);
            for (var i = 0; i < row.Length; i++) row[i] = (line.Timed * ((rows[g].First + i) * Spacing)) - (line.Survived * hazards[rows[g].First + i - first]) - line.Peak;
        }

        AddLosses(lines, hazards);
        for (var i = 0; i < values.Length; i++) values[i] = Math.Exp(values[i]);
    }

    /// <summary>Each different d once for all lines that have it, in ascending order.</summary>
    private void AddLosses(IReadOnlyList<(LineLikelihood Line, int Times)> lines, double[] hazards)
    {
        var room = 0;
        foreach (var (line, _) in lines) room += line.Within.Length;
        var within = new double[room];
        var users = new (int Row, double Count)[room];
        var next = 0;
        for (var g = 0; g < rows.Length; g++)
        {
            var line = lines[g].Line;
            for (var j = 0; j < line.Within.Length; j++) (within[next], users[next++]) = (line.Within[j], (g, line.Counts[j]));
        }

        Array.Sort(within, users);
        var column = new double[hazards.Length];
        for (int start = 0, end; start < room; start = end)
        {
            end = start + 1;
            while (end < room && within[end] == within[start]) end++;
            AddLoss(within[start], users.AsSpan(start, end - start), hazards, column);
        }
    }

    private void AddLoss(double d, ReadOnlySpan<(int Row, double Count)> users, double[] hazards, double[] column)
    {
        int low = int.MaxValue, high = int.MinValue;
        foreach (var (g, _) in users)
        {
            low = Math.Min(low, rows[g].First);
            high = Math.Max(high, rows[g].First + rows[g].Count - 1);
        }

        var log = Math.Log(d);
        for (var k = low; k <= high; k++) column[k - first] = LogOneMinusExp.At(hazards[k - first] * d, (k * Spacing) + log);
        foreach (var (g, count) in users)
        {
            if (rows[g].Count == 0) continue;
            var row = values.AsSpan(rows[g].Start, rows[g].Count);
            var part = column.AsSpan(rows[g].First - first, rows[g].Count);
            for (var i = 0; i < row.Length; i++) row[i] += count * part[i];
        }
    }

    private readonly record struct Row(int First, int Count, int Start, int Times, double FlatBelow, double FlatAbove);
}
