using Tussock.Fates;

namespace Tussock.Survival;

/// <summary>For each line the rows of the curve's likelihood that its nests fall into, and how many; lines without a watched nest are not among them.</summary>
internal sealed class LineRows
{
    private readonly int[] starts, rows;
    private readonly double[] counts;

    private LineRows(int[] starts, int[] rows, double[] counts) => (this.starts, this.rows, this.counts) = (starts, rows, counts);

    /// <summary>Number of lines with a watched nest, m.</summary>
    internal int Count => starts.Length - 1;

    internal static LineRows Of(NestSpans nests, InnermostIntervals places)
    {
        var pairs = Enumerable.Range(0, nests.Count).Where(i => places.RowOf[i] >= 0).Select(i => (Line: nests.Line[i], Row: places.RowOf[i])).Order().ToArray();
        List<int> begins = [], kinds = [];
        List<double> nestsOf = [];
        for (var i = 0; i < pairs.Length; i++)
        {
            if (i == 0 || pairs[i].Line != pairs[i - 1].Line) begins.Add(kinds.Count);
            if (i > 0 && pairs[i] == pairs[i - 1])
            {
                nestsOf[^1]++;
                continue;
            }

            kinds.Add(pairs[i].Row);
            nestsOf.Add(1);
        }

        begins.Add(kinds.Count);
        return new LineRows([.. begins], [.. kinds], [.. nestsOf]);
    }

    /// <summary>Adds one line's nests to the weights of rows.</summary>
    internal void AddTo(double[] weights, int line)
    {
        for (var i = starts[line]; i < starts[line + 1]; i++) weights[rows[i]] += counts[i];
    }
}
