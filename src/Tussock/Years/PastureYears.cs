using System.Collections.Immutable;
using Tussock.Cover;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Records;
using Tussock.Results;
using Tussock.Survival;
using Tussock.Verdicts;

namespace Tussock.Years;

/// <summary>Takes from a season what stands beside other years: each property, then its pastures.</summary>
public static class PastureYears
{
    /// <summary>What a season says of each property and each pasture that has a nest or a belt.</summary>
    /// <param name="season">The season.</param>
    /// <param name="withParity">Whether the parity density of each property is computed too, which takes longest.</param>
    /// <returns>Properties in ordinal order, each followed by its pastures; none of a season for practice; a property of one pasture only as that pasture and as itself.</returns>
    /// <remarks>Cost: one pass over the nests, and one two-piece fit for each group whose checks came too late.</remarks>
    public static ImmutableArray<PastureYear> Of(Season season, bool withParity = false)
    {
        ArgumentNullException.ThrowIfNull(season);
        // Nothing in a season for practice happened: it is compared with none.
        if (season.Settings.IsPractice) return [];
        var seen = new SeasonSeen(season);
        var groups = new List<(string Property, Pasture? Pasture, int[] Pastures)>();
        foreach (var property in season.Pastures.Select((p, i) => (Pasture: p, Index: i)).GroupBy(p => p.Pasture.Property, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            groups.Add((property.Key, null, [.. property.Select(p => p.Index)]));
            groups.AddRange(property.Select(p => (property.Key, (Pasture?)p.Pasture, new[] { p.Index })));
        }

        var years = new PastureYear?[groups.Count];
        Ordered.For(years.Length, i => years[i] = seen.Year(groups[i].Property, groups[i].Pasture, groups[i].Pastures, withParity));
        return [.. years.OfType<PastureYear>()];
    }

    /// <summary>A season with what belongs to each of its pastures.</summary>
    private sealed class SeasonSeen
    {
        /// <summary>Share of nests that nobody has looked at around the end, from which on a counted share would flatter or blacken.</summary>
        private const double MostNotLookedAt = 0.05;

        private readonly Season season;
        private readonly SeasonFates fates;
        private readonly Trial trial;
        private readonly Belts belts;
        private readonly ILookup<int, int> rows;
        private readonly ILookup<int, BeltUnit> units;
        private readonly ILookup<Pasture, Nest> nests;
        private readonly ILookup<Pasture, Visit> visits;
        private readonly ILookup<int, string> confirmed;
        private readonly HashSet<string> lasting;
        private readonly HashSet<Nest> lookedAt;
        private readonly ImmutableArray<bool> isOther;

        internal SeasonSeen(Season season)
        {
            this.season = season;
            fates = SeasonFates.Of(season);
            var (first, days, window) = season.Settings.TrialNumbers;
            trial = new Trial(first, days, window);
            belts = Belts.Of(season);
            rows = Enumerable.Range(0, fates.Spans.Count).ToLookup(r => fates.Spans.Pasture[r]);
            units = belts.Units.ToLookup(u => u.Pasture);
            nests = season.Nests.ToLookup(n => n.Transect.Pasture);
            visits = season.Visits.ToLookup(v => v.Nest.Transect.Pasture);
            confirmed = season.CameraEvents.IsEmpty ? Array.Empty<string>().ToLookup(_ => 0) : LossEvidence.Of(season, fates).Where(l => l.Evidence.Confirmed is not null).ToLookup(l => fates.Spans.Pasture[l.Row], l => l.Evidence.Confirmed!);
            lookedAt = season.Visits.Where(v => v.Day >= days - window).Select(v => v.Nest).ToHashSet();
            // A line's name lasts where somebody gave it one, or where another transect is said to lie on it.
            lasting = season.Transects.Where(t => t.Source.Text("line").Length > 0).Select(t => t.Line).ToHashSet(StringComparer.Ordinal);
            var roles = season.Settings.CoverClasses.ToDictionary(c => c.Name, c => c.Role, StringComparer.Ordinal);
            isOther = [.. fates.Spans.CoverNames.Select(name => roles.GetValueOrDefault(name, CoverRole.Other) != CoverRole.Grass)];
        }

        internal PastureYear? Year(string property, Pasture? pasture, int[] pastures, bool withParity)
        {
            int[] nestRows = [.. pastures.SelectMany(p => rows[p]).Order()];
            var spans = fates.Spans.Rows(nestRows);
            var own = pastures.SelectMany(p => units[p]).ToArray();
            if (spans.Count == 0 && own.Length == 0) return null;
            var land = pastures.Select(p => season.Pastures[p]).ToArray();
            var share = CountedShare.Of(spans, trial, TrialDay.End);
            var isLate = spans.Count > 0 && share.Share.Value is null && share.CheckedTooLate > 0;
            var open = nestRows.Count(r => fates.Spans.Day28[r] == FateAt.Unknown && fates.Rows[r].EndedBy is null && !lookedAt.Contains(fates.Rows[r].Nest));
            var isOpen = !isLate && open > MostNotLookedAt * spans.Count;
            var density = own.Length == 0 ? null : DensityRows.OfAll(own, belts, season.Settings);
            return new PastureYear
            {
                Conduct = SeasonConduct.Of(season, land.SelectMany(p => nests[p]), land.SelectMany(p => visits[p])),
                Property = property,
                Pasture = pasture?.Name,
                TrialDays = trial.Days,
                Benchmark = season.Settings.SurvivalBenchmark,
                Counts = FateCounts.Of(spans),
                Lines = LinesOf(spans, own),
                TooLate = isLate ? (share.CheckedTooLate, spans.FirstLost.Where(double.IsFinite).Max()) : null,
                NotLookedAt = isOpen ? open : null,
                Pieces = isLate || isOpen ? Measured.Of(TwoPiece.Fit(spans, trial).Survival28) : null,
                PerAcre = density is null ? null : Measured.Of(density.PerAcre),
                WalkersError = WalkersError(density),
                CoverRatio = spans.Count == 0 ? null : Measured.Of(ByRole(spans)),
                Parity = withParity && pasture is null && spans.Count > 0 ? Measured.Of(ParityDensity.Of(spans, isOther, LineDensities.Of(season, belts)).PerAcre) : null,
                Losses = Counted(Enumerable.Range(0, spans.Count).Where(r => spans.Day28[r] == FateAt.Lost).Select(r => LossCounts.Token(spans.Cause[r]))),
                Events = EventsOf(property, land),
                Confirmed = Counted(pastures.SelectMany(p => confirmed[p])),
            };
        }

        /// <summary>Events of the property, and of any of these pastures; one on a transect counts for its pasture.</summary>
        private ImmutableArray<(string, DateOnly?)> EventsOf(string property, Pasture[] land) =>
            [.. season.Events.Where(e => e.Kind.Length > 0 && (e.Property.Length == 0 || e.Property == property) && (e.Pasture.Length == 0 || land.Any(p => p.Name == e.Pasture)) && (e.Transect.Length == 0 || season.Transects.Any(t => t.Name == e.Transect && land.Contains(t.Pasture)))).OrderBy(e => e.From).ThenBy(e => e.Kind, StringComparer.Ordinal).Select(e => (e.Kind, e.From)).Distinct()];

        private static double WalkersError(ClumpDensity? density)
        {
            if (density is not { PerAcre: { Se: { } whole, Value: > 0 and var d }, PerAcreBetweenLines.Se: { } between }) return 0;
            return Math.Max(0, ((whole * whole) - (between * between)) / (d * d));
        }

        private Estimate ByRole(NestSpans spans) => MantelHaenszel.Compare(spans.InClasses(c => isOther[c] ? 1 : 0, ["grass", "other"]), 0, 1).SurvivalRatio;

        private ImmutableArray<LineYear> LinesOf(NestSpans spans, BeltUnit[] own)
        {
            var lines = new SortedDictionary<string, (int Survived, int Known, double Clumps, double AreaM2)>(StringComparer.Ordinal);
            for (var r = 0; r < spans.Count; r++)
            {
                var name = spans.LineNames[spans.Line[r]];
                var line = lines.GetValueOrDefault(name);
                if (spans.Day28[r] != FateAt.Unknown) line = line with { Survived = line.Survived + (spans.Day28[r] == FateAt.Survived ? 1 : 0), Known = line.Known + 1 };
                lines[name] = line;
            }

            foreach (var segment in SegmentDensity.Along(own, belts.Question(season.Settings)).Where(s => s.IsCounted))
            {
                var name = season.Transects[segment.Transect].Line;
                var line = lines.GetValueOrDefault(name);
                lines[name] = line with { Clumps = line.Clumps + segment.Clumps, AreaM2 = line.AreaM2 + segment.AreaM2 };
            }

            return [.. lines.Select(l => new LineYear(lasting.Contains(l.Key) ? l.Key : null, l.Key, l.Value.Survived, l.Value.Known, l.Value.Clumps, l.Value.AreaM2))];
        }

        private static ImmutableArray<(string, int)> Counted(IEnumerable<string> tokens) =>
            [.. tokens.GroupBy(t => t, StringComparer.Ordinal).Select(g => (g.Key, Count: g.Count())).OrderByDescending(g => g.Count).ThenBy(g => g.Key, StringComparer.Ordinal)];
    }
}
