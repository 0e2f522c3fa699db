using System.Collections.Immutable;

namespace Tussock.Models;

/// <summary>Effects that are constant within each of a table's groups: known from as many numbers as there are groups, however many nests these hold.</summary>
/// <param name="Constant">Columns of the table.</param>
/// <param name="Degrees">Informative groups less such columns, at least 1: degrees of freedom of Student's t for their limits; null with a single group.</param>
/// <remarks>By simulation (12 lines of 12 nests) normal limits of such effects hold 89 to 92 % in place of 95, these 93 to 95.</remarks>
internal sealed record BetweenLines(ImmutableArray<int> Constant, int? Degrees)
{
    /// <summary>The constant ones among scaled columns.</summary>
    public static BetweenLines Of(EffectColumns columns, ModelTable scaled, int informative)
    {
        var constant = ImmutableArray.CreateBuilder<int>();
        for (var j = 0; j < scaled.Width; j++) if (IsConstant(scaled, j)) constant.Add(columns.Kept[j]);
        return new BetweenLines(constant.ToImmutable(), informative > 1 ? Math.Max(1, informative - constant.Count) : null);
    }

    private static bool IsConstant(ModelTable table, int column)
    {
        for (var g = 0; g < table.Groups; g++)
            for (var p = table.GroupPatterns[g] + 1; p < table.GroupPatterns[g + 1]; p++)
                if (table.X[p * table.Width + column] != table.X[(p - 1) * table.Width + column]) return false;
        return true;
    }
}
