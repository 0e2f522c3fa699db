using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Fieldwork;

/// <summary>The part of a season that can be read: a phone must work while somebody at the desk still has to mend a row.</summary>
public static class ReadableSeason
{
    private const int Rounds = 12;

    /// <summary>The season without the rows that stop it.</summary>
    /// <param name="tables">Its tables.</param>
    /// <returns>The season; null when it can't be read even without them.</returns>
    public static Season? Of(SeasonTables tables)
    {
        for (var round = 0; round < Rounds; round++)
        {
            if (SeasonReading.Read(tables, out var problems) is { } season) return season;
            var wrong = problems.Where(p => p.Place.Line is not null).Select(p => (p.Place.File, Line: p.Place.Line!.Value)).ToHashSet();
            if (wrong.Count == 0) return null;
            var left = tables.Tables.Select(t => t with { Rows = t.Rows.RemoveAll(r => wrong.Contains((t.Kind.File, r.Line))) }).ToImmutableArray();
            if (left.Sum(t => t.Rows.Length) == tables.Tables.Sum(t => t.Rows.Length)) return null;
            tables = tables with { Tables = left };
        }

        return null;
    }
}
