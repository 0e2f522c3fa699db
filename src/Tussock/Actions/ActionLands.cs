using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Actions;

/// <summary>Which land had an action from when on, which had none, and the nests that can be compared; what had to be left out is said.</summary>
internal sealed record ActionLands(ActionNests Nests, ImmutableArray<ActionLand> Units, ImmutableArray<string> Years, ImmutableArray<Phrase> Said)
{
    /// <summary>Pieces of land with the action, before and after.</summary>
    public ImmutableArray<ActionLand> Treated => [.. Units.Where(u => u.FromYear is not null)];

    /// <summary>Pieces of land without.</summary>
    public ImmutableArray<ActionLand> Untreated => [.. Units.Where(u => u.FromYear is null)];

    /// <summary>Label of the year of a transect.</summary>
    public static string YearOf(Season season, Transect transect) => transect.Source.Text(PooledYears.Column) is { Length: > 0 } year ? year : SeasonPooling.Label(season.Settings);

    /// <summary>Sorts a season's nests by land, year and action.</summary>
    /// <returns>The nests; a reason where there is nothing to compare.</returns>
    public static Answer<ActionLands> Of(Season season, SeasonFates fates, string kind)
    {
        var dates = new ActionDates(season, fates.Rows, kind);
        if (!dates.HasAny) return dates.Undated > 0 ? NoAnswer.Because("action.no_date", ("kind", kind)) : NoAnswer.Because("action.no_such", ("kind", kind), ("kinds", BeforeAfterControl.Kinds(season).ToArray()));
        var years = fates.Rows.Select(f => YearOf(season, f.Nest.Transect)).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToImmutableArray();
        if (years.Length < 2) return NoAnswer.Because("action.one_year");
        var rows = fates.Rows.Select((f, i) => new Row(i, Land(season, dates, f.Nest), years.IndexOf(YearOf(season, f.Nest.Transect)), dates.Of(f.Nest))).ToArray();
        return new Sorting(fates.Spans, rows, years, dates, season).Lands(Trial(season));
    }

    private static Trial Trial(Season season) => new(season.Settings.TrialNumbers.FirstCheck, season.Settings.TrialNumbers.Days, season.Settings.TrialNumbers.Window);

    private static ActionLand Land(Season season, ActionDates dates, Nest nest)
    {
        var pasture = nest.Transect.Pasture;
        var isLines = dates.IsOnLine(nest.Transect.Line) && season.Transects.Any(t => ReferenceEquals(t.Pasture, pasture) && !dates.IsOnLine(t.Line));
        return new ActionLand(pasture.Property, pasture.Name, isLines, null);
    }

    private readonly record struct Row(int Index, ActionLand Land, int Year, ActionState State)
    {
        public bool IsWith => State == ActionState.With;
    }

    /// <summary>Leaves out, one reason after the other, what can't stand in the contrast.</summary>
    private sealed class Sorting(NestSpans spans, Row[] all, ImmutableArray<string> years, ActionDates dates, Season season)
    {
        private Row[] rows = all;
        private readonly ImmutableArray<Phrase>.Builder said = ImmutableArray.CreateBuilder<Phrase>();
        private readonly bool hasProperty = season.Pastures.Select(p => p.Property).Distinct(StringComparer.Ordinal).Count() > 1;

        public Answer<ActionLands> Lands(Trial trial)
        {
            if (dates.Undated > 0) said.Add(Phrase.Of("action.undated", ("events", dates.Undated)));
            if (dates.HasUnknownLines) said.Add(Phrase.Of("action.unknown_lines"));
            if (rows.All(r => r.State == ActionState.Without)) return NoAnswer.Because("action.nobody_after");
            Keep(r => r.State != ActionState.During, "action.during");
            Keep(r => r.State != ActionState.Over, "action.over");
            var always = Of(r => r.All(x => x.IsWith));
            if (always.Count > 0) KeepLand(r => !always.Contains(r.Land), "action.from_the_beginning", always);
            var without = Of(r => r.All(x => !x.IsWith));
            if (rows.Length == 0 || rows.All(r => !r.IsWith)) return NoAnswer.Because("action.nobody_before");
            if (without.Count == 0) return NoAnswer.Because("action.no_untreated");
            var compared = rows.Where(r => without.Contains(r.Land)).Select(r => r.Year).ToHashSet();
            if (rows.Any(r => !compared.Contains(r.Year))) said.Add(Phrase.Of("action.years_alone", ("years", rows.Select(r => r.Year).Distinct().Where(y => !compared.Contains(y)).Order().Select(y => years[y]).ToArray())));
            rows = [.. rows.Where(r => compared.Contains(r.Year))];
            var half = Of(r => !without.Contains(r[0].Land) && (r.All(x => x.IsWith) || r.All(x => !x.IsWith)));
            if (half.Count > 0) KeepLand(r => !half.Contains(r.Land), "action.half", half);
            return rows.All(r => !r.IsWith) ? NoAnswer.Because("action.nobody_before") : Sorted(trial);
        }

        private ActionLands Sorted(Trial trial)
        {
            // Years and land that are left keep their order.
            int[] kept = [.. rows.Select(r => r.Year).Distinct().Order()];
            ActionLand[] lands = [.. rows.Select(r => r.Land).Distinct().OrderBy(l => l.Property, StringComparer.Ordinal).ThenBy(l => l.Pasture, StringComparer.Ordinal).ThenBy(l => l.IsLines)];
            var from = lands.Select(l => rows.Where(r => r.Land == l && r.IsWith).Select(r => (int?)r.Year).Min());
            var nests = new ActionNests
            {
                Nests = spans.Rows([.. rows.Select(r => r.Index)]),
                Trial = trial,
                Year = [.. rows.Select(r => Array.IndexOf(kept, r.Year))],
                Unit = [.. rows.Select(r => Array.IndexOf(lands, r.Land))],
                IsWith = [.. rows.Select(r => r.IsWith)],
                Years = kept.Length,
                Units = lands.Length,
            };
            return new ActionLands(nests, [.. lands.Zip(from, (l, y) => l with { FromYear = y is { } year ? years[year] : null })], [.. kept.Select(y => years[y])], said.ToImmutable());
        }

        private HashSet<ActionLand> Of(Func<Row[], bool> holds) => [.. rows.GroupBy(r => r.Land).Where(g => holds([.. g])).Select(g => g.Key)];

        private void Keep(Func<Row, bool> keep, string why)
        {
            var gone = rows.Where(r => !keep(r)).ToArray();
            if (gone.Length == 0) return;
            said.Add(Phrase.Of(why, ("nests", gone.Length), ("where", gone.Select(r => (r.Land, r.Year)).Distinct().OrderBy(r => r.Year).ThenBy(r => r.Land.Pasture, StringComparer.Ordinal).Select(r => Phrase.Of("action.land_year", ("land", r.Land.Name(hasProperty)), ("year", years[r.Year]))).ToArray())));
            rows = [.. rows.Where(keep)];
        }

        private void KeepLand(Func<Row, bool> keep, string why, IEnumerable<ActionLand> gone)
        {
            said.Add(Phrase.Of(why, ("lands", gone.OrderBy(l => l.Pasture, StringComparer.Ordinal).Select(l => l.Name(hasProperty)).ToArray())));
            rows = [.. rows.Where(keep)];
        }
    }
}
