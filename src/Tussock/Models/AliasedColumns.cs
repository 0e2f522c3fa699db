namespace Tussock.Models;

/// <summary>Which columns of a table say nothing beyond the columns before them: constant ones and combinations of others.</summary>
internal static class AliasedColumns
{
    /// <summary>Share of a column's spread, squared, that must be its own.</summary>
    private const double OwnShare = 1e-10;

    /// <summary>A spread below this part of the largest value is rounding.</summary>
    private const double Rounding = 1e-12;

    /// <summary>For each column whether it is aliased; the first is the intercept and never is.</summary>
    /// <remarks>Columns are centred and brought to unit spread over the patterns; then each is freed from those kept before it (modified Gram–Schmidt).</remarks>
    internal static bool[] Of(ModelTable table)
    {
        var isAliased = new bool[table.Width];
        List<double[]> kept = [];
        for (var c = 1; c < table.Width; c++)
        {
            if (Standardised(table, c) is not { } own)
            {
                isAliased[c] = true;
                continue;
            }

            foreach (var before in kept) Remove(own, before);
            var left = own.Sum(x => x * x);
            isAliased[c] = left < OwnShare;
            if (isAliased[c]) continue;
            var length = Math.Sqrt(left);
            for (var i = 0; i < own.Length; i++) own[i] /= length;
            kept.Add(own);
        }

        return isAliased;
    }

    private static double[]? Standardised(ModelTable table, int column)
    {
        var own = new double[table.Patterns];
        for (var p = 0; p < own.Length; p++) own[p] = table.X[p * table.Width + column];
        if (own.Length == 0 || own.Max() - own.Min() <= Rounding * Math.Max(Math.Abs(own.Max()), Math.Abs(own.Min()))) return null;
        var mean = own.Average();
        for (var i = 0; i < own.Length; i++) own[i] -= mean;
        var length = Math.Sqrt(own.Sum(x => x * x));
        for (var i = 0; i < own.Length; i++) own[i] /= length;
        return own;
    }

    private static void Remove(double[] own, double[] unit)
    {
        var along = 0.0;
        for (var i = 0; i < own.Length; i++) along += own[i] * unit[i];
        for (var i = 0; i < own.Length; i++) own[i] -= along * unit[i];
    }
}
