using Tussock.Fates;

namespace Tussock.Tests.Survival;

/// <summary>One nest of an invented season: its line, last intact day, first lost day, camera time and cause.</summary>
public sealed record NestRow(int Line, double A, double B = double.PositiveInfinity, double T = double.NaN, Cause Cause = Cause.Depredated);

/// <summary>Invented nests as spans, with their fates by the ordered rule.</summary>
public static class NestRows
{
    public static NestSpans Spans(params IEnumerable<NestRow> rows)
    {
        var sorted = rows.OrderBy(r => r.Line).ToArray();
        T[] Column<T>(Func<NestRow, T> pick) => sorted.Select(pick).ToArray();
        return new NestSpans
        {
            LastIntact = Column(r => r.A),
            FirstLost = Column(r => r.B),
            LostAt = Column(r => r.T),
            Line = Column(r => r.Line),
            Transect = Column(r => r.Line),
            Nest = sorted.Select((_, i) => i + 1).ToArray(),
            Cover = new int[sorted.Length],
            Pasture = new int[sorted.Length],
            Cause = Column(r => double.IsFinite(r.B) || !double.IsNaN(r.T) ? r.Cause : Cause.None),
            Day14 = Column(r => ReferenceSeason.Fate(r.A, r.B, r.T, 14, 3)),
            Day28 = Column(r => ReferenceSeason.Fate(r.A, r.B, r.T, 28, 3)),
            LineNames = [.. Enumerable.Range(0, sorted.Length == 0 ? 0 : sorted[^1].Line + 1).Select(i => "T" + i)],
            CoverNames = ["grass"],
        };
    }

    /// <summary>A line of nests by its counts: whole to day 28, lost between day 14 and 28, never seen again.</summary>
    public static IEnumerable<NestRow> Line(int line, int whole, int lost, int never = 0) =>
        [.. Enumerable.Repeat(new NestRow(line, 28), whole), .. Enumerable.Repeat(new NestRow(line, 14, 28), lost), .. Enumerable.Repeat(new NestRow(line, 0), never)];

    /// <summary>The same lines once more under new names.</summary>
    public static IEnumerable<NestRow> Twice(IReadOnlyCollection<NestRow> rows)
    {
        var lines = rows.Max(r => r.Line) + 1;
        return rows.Concat(rows.Select(r => r with { Line = r.Line + lines }));
    }
}
