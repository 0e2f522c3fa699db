using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Fates;

/// <summary>The fates of a season's nests, and the same in columns for the estimators.</summary>
/// <remarks>Made in one pass over visits and camera events. May be shared between threads.</remarks>
public sealed class SeasonFates
{
    private SeasonFates(ImmutableArray<NestFate> nests, NestFate[] rows, NestSpans spans, int planned) => (Nests, Rows, Spans, PlannedNests) = (nests, [.. rows], spans, planned);

    /// <summary>One fate for each nest that was set, in the season's order; those lost on day 0 or before among them (not counted).</summary>
    public ImmutableArray<NestFate> Nests { get; }

    /// <summary>The counted nests in columns, sorted by line.</summary>
    public NestSpans Spans { get; }

    /// <summary>The fates of the counted nests, row by row as in <see cref="Spans"/>.</summary>
    public ImmutableArray<NestFate> Rows { get; }

    /// <summary>Nests that are planned and not set: in no count.</summary>
    public int PlannedNests { get; }

    private const int Block = 1024;

    /// <summary>Name under which nests without a cover class are grouped.</summary>
    public const string NoCover = "not recorded";

    /// <summary>The fates of a season.</summary>
    /// <source>The ordered rule of <see cref="FateRule"/>: common practice, no source.</source>
    /// <check>reference-seasons</check>
    public static SeasonFates Of(Season season)
    {
        var (first, days, window) = season.Settings.TrialNumbers;
        var trial = new Trial(first, days, window);
        var (fates, planned) = Fates(season, trial);
        var lines = season.Transects.Select(t => t.Line).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToImmutableArray();
        var line = Indexes(lines);
        var rows = fates.Where(f => f.IsCounted).OrderBy(f => line[f.Nest.Transect.Line]).ToArray();
        return new SeasonFates(fates, rows, Columns(season, rows, lines), planned);
    }

    /// <summary>Nests in blocks side by side: each nest's fate is its own.</summary>
    private static (ImmutableArray<NestFate> Fates, int Planned) Fates(Season season, Trial trial)
    {
        var visits = Starts(season.Nests, season.Visits, v => v.Nest);
        var cameras = Starts(season.Nests, season.CameraEvents, c => c.Nest);
        var all = new NestFate?[season.Nests.Length];
        Numerics.Ordered.For((all.Length + Block - 1) / Block, block =>
        {
            for (var i = block * Block; i < Math.Min(all.Length, (block + 1) * Block); i++)
            {
                var nest = season.Nests[i];
                if (nest.IsSet) all[i] = FateRule.Of(nest, season.Visits.AsSpan()[visits[i]..visits[i + 1]], season.CameraEvents.AsSpan()[cameras[i]..cameras[i + 1]], season.Settings.LossRule, trial);
            }
        });
        return ([.. all.OfType<NestFate>()], season.Nests.Count(n => !n.IsSet && n.Status == StationStatus.Set));
    }

    /// <summary>Where the records of each nest begin; they stand in the order of the nests. One more entry than nests.</summary>
    private static int[] Starts<T>(ImmutableArray<Nest> nests, ImmutableArray<T> records, Func<T, Nest> owner)
    {
        var starts = new int[nests.Length + 1];
        var next = 0;
        for (var i = 0; i < nests.Length; i++)
        {
            while (next < records.Length && ReferenceEquals(owner(records[next]), nests[i])) next++;
            starts[i + 1] = next;
        }

        return starts;
    }

    private static Dictionary<T, int> Indexes<T>(ImmutableArray<T> values)
        where T : notnull
    {
        var index = new Dictionary<T, int>(values.Length);
        foreach (var value in values) index.Add(value, index.Count);
        return index;
    }

    private static NestSpans Columns(Season season, NestFate[] rows, ImmutableArray<string> lineNames)
    {
        var coverNames = CoverNames(season);
        var line = Indexes(lineNames);
        var cover = Indexes(coverNames);
        var transect = Indexes(season.Transects);
        var pasture = Indexes(season.Pastures);
        return new NestSpans
        {
            LastIntact = Column(rows, f => f.LastIntact),
            FirstLost = Column(rows, f => f.FirstLost ?? double.PositiveInfinity),
            LostAt = Column(rows, f => f.LostAt ?? double.NaN),
            Line = Column(rows, f => line[f.Nest.Transect.Line]),
            Transect = Column(rows, f => transect[f.Nest.Transect]),
            Nest = Column(rows, f => f.Nest.Number),
            Cover = Column(rows, f => cover[CoverOf(f.Nest)]),
            Pasture = Column(rows, f => pasture[f.Nest.Transect.Pasture]),
            Cause = Column(rows, f => f.Cause),
            Day14 = Column(rows, f => f.Day14),
            Day28 = Column(rows, f => f.Day28),
            LineNames = lineNames,
            CoverNames = coverNames,
        };
    }

    private static ImmutableArray<string> CoverNames(Season season)
    {
        var listed = season.Settings.CoverClasses.Select(c => c.Name).ToList();
        var others = season.Nests.Where(n => n.IsSet).Select(CoverOf).Distinct(StringComparer.Ordinal).Except(listed, StringComparer.Ordinal).Order(StringComparer.Ordinal);
        return [.. listed, .. others];
    }

    private static string CoverOf(Nest nest) => nest.Cover.Length > 0 ? nest.Cover : NoCover;

    private static T[] Column<T>(NestFate[] rows, Func<NestFate, T> value)
    {
        var column = new T[rows.Length];
        for (var i = 0; i < rows.Length; i++) column[i] = value(rows[i]);
        return column;
    }
}
