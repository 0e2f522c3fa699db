namespace Tussock.Models;

/// <summary>A table as a fit with random intercepts sees it: its columns centred and scaled, those left out gone.</summary>
internal static class ScaledTable
{
    /// <summary>The table of given columns; days and losses are shared with theirs.</summary>
    public static ModelTable Of(EffectColumns columns)
    {
        var (table, width) = (columns.Table, columns.Width);
        int n = table.Patterns;
        var x = new double[n * width];
        for (var j = 0; j < width; j++)
            for (var p = 0; p < n; p++) x[p * width + j] = columns.Scaled[j * n + p];
        return new ModelTable
        {
            Columns = [.. columns.Kept.Select(c => table.Columns[c])],
            X = x,
            Offset = table.Offset,
            Watched = table.Watched,
            Timed = table.Timed,
            GroupPatterns = table.GroupPatterns,
            GroupLosses = table.GroupLosses,
            LossPieces = table.LossPieces,
            LossWeight = table.LossWeight,
            PiecePattern = table.PiecePattern,
            PieceDays = table.PieceDays,
            GroupNames = table.GroupNames,
            Nests = table.Nests,
            Intervals = table.Intervals,
        };
    }
}
