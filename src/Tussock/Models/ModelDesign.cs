using System.Collections.Immutable;
using System.Runtime.InteropServices;

namespace Tussock.Models;

/// <summary>One model's effects on the nests it is fitted to: its columns, its table, and the rows of a prediction.</summary>
/// <remarks>
/// Classes are coded against their reference, which has no column. A column that says nothing beyond the intercept and the columns before it is left out.
/// May be shared between threads.
/// </remarks>
public sealed class ModelDesign
{
    private readonly ImmutableArray<DesignColumn> columns;

    private ModelDesign(ModelNests nests, EffectChoice choice, ImmutableArray<Effect> effects, ImmutableArray<DesignColumn> columns, ImmutableArray<string> leftOut) =>
        (Nests, Choice, Effects, this.columns, LeftOut) = (nests, choice, effects, columns, leftOut);

    /// <summary>The nests it is fitted to.</summary>
    public ModelNests Nests { get; }

    /// <summary>What was chosen.</summary>
    public EffectChoice Choice { get; }

    /// <summary>The effects, in the order chosen.</summary>
    public ImmutableArray<Effect> Effects { get; }

    /// <summary>Columns that say nothing of their own on these nests, and effects with one class alone: left out.</summary>
    public ImmutableArray<string> LeftOut { get; }

    /// <summary>Names of the columns kept, the intercept first.</summary>
    public ImmutableArray<string> Columns => [.. columns.Select(c => c.Name)];

    /// <summary>The design of a choice on some nests, which must have all its effects.</summary>
    public static ModelDesign Of(ModelNests nests, EffectChoice choice)
    {
        ImmutableArray<Effect> effects = [.. choice.Effects.Select(name => nests.Frame.Effect(name)!)];
        var all = new ModelDesign(nests, choice, effects, DesignColumn.Of(effects, choice), []);
        var isAliased = AliasedColumns.Of(all.Table());
        var without = effects.Where(e => e.Levels.Length == 1).Select(e => e.Name).Concat(all.columns.Where((_, c) => isAliased[c]).Select(c => c.Name));
        return new ModelDesign(nests, choice, effects, [.. all.columns.Where((_, c) => !isAliased[c])], [.. without]);
    }

    /// <summary>The table that the model is fitted to, its groups the lines.</summary>
    public ModelTable Table() => Table(NestGroups.Lines(Nests.Frame));

    /// <summary>The table with other groups.</summary>
    internal ModelTable Table(NestGroups groups)
    {
        var maker = new ModelTableMaker(Columns) { Nests = Nests.Rows.Length, Intervals = Nests.Intervals };
        var grouped = Nests.Rows.GroupBy(groups.OfNest, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal);
        foreach (var group in grouped)
        {
            maker.Group(group.Key);
            var patterns = new PatternsOfGroup(maker);
            foreach (var row in group) Add(maker, patterns, row);
        }

        return maker.Table();
    }

    /// <summary>Values of the columns where the effects have given values.</summary>
    /// <param name="effects">Number, or index of the class, of each effect in the order of <see cref="Effects"/>.</param>
    public double[] Row(ReadOnlySpan<double> effects)
    {
        var row = new double[columns.Length];
        for (var c = 0; c < row.Length; c++) row[c] = columns[c].Value(effects);
        return row;
    }

    /// <summary>Pieces of the days (from, to] of a nest within which no effect changes.</summary>
    internal List<double> Cuts(int row, double from, double to) => Cuts(Effects, row, from, to);

    /// <summary>The same for effects that are not the design's own.</summary>
    internal static List<double> Cuts(ImmutableArray<Effect> effects, int row, double from, double to)
    {
        List<double> cuts = [];
        foreach (var effect in effects) if (effect.ChangesWithDays) effect.AddCuts(row, from, to, cuts);
        cuts.Sort();
        cuts.Add(to);
        return cuts;
    }

    private void Add(ModelTableMaker maker, PatternsOfGroup patterns, int row)
    {
        var watch = Nests.Frame.Nests[row];
        foreach (var (pattern, days) in Pieces(patterns, row, 0, watch.LastIntact)) maker.Watched(pattern, days);
        if (watch.LostAt is { } time)
        {
            var last = 0;
            foreach (var (pattern, days) in Pieces(patterns, row, watch.LastIntact, time))
            {
                maker.Watched(pattern, days);
                last = pattern;
            }

            maker.LostAt(last);
        }
        else if (watch.FirstLost is { } found)
        {
            maker.LostWithin(CollectionsMarshal.AsSpan(Pieces(patterns, row, watch.LastIntact, found)));
        }
    }

    /// <summary>The visit intervals one by one, in groups by line: what a season made by the model needs.</summary>
    /// <remarks>
    /// Camera times are not used: a loss runs from the last intact visit to the visit that found it, and one that only a camera saw leaves its nest watched to the last intact visit,
    /// as with <see cref="CameraTimes.Ignore"/>.
    /// </remarks>
    public VisitRows Visits()
    {
        var maker = new VisitRowsMaker(Columns) { Nests = Nests.Rows.Length };
        var grouped = Nests.Rows.GroupBy(NestGroups.Lines(Nests.Frame).OfNest, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal);
        foreach (var group in grouped)
        {
            maker.Group(group.Key);
            var patterns = new PatternsOfGroup(maker.Patterns);
            foreach (var row in group)
            {
                var watch = Nests.Frame.Nests[row];
                var from = 0.0;
                foreach (var day in watch.Intact)
                {
                    maker.IntervalOf(Pieces(patterns, row, from, day), isLost: false);
                    from = day;
                }

                if (watch.FirstLost is { } found) maker.IntervalOf(Pieces(patterns, row, from, found), isLost: true);
            }
        }

        return maker.Rows();
    }

    private List<(int Pattern, double Days)> Pieces(PatternsOfGroup patterns, int row, double from, double to)
    {
        List<(int, double)> pieces = [];
        if (to <= from) return pieces;
        Span<double> values = stackalloc double[Effects.Length];
        Span<double> x = columns.Length <= 64 ? stackalloc double[columns.Length] : new double[columns.Length];
        var begin = from;
        foreach (var end in Cuts(row, from, to))
        {
            if (end <= begin) continue;
            for (var e = 0; e < values.Length; e++) values[e] = Effects[e].At(row, (begin + end) / 2);
            for (var c = 0; c < x.Length; c++) x[c] = columns[c].Value(values);
            pieces.Add((patterns.Index(x), end - begin));
            begin = end;
        }

        return pieces;
    }
}
