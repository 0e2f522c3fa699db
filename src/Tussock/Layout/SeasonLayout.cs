using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Numerics;

namespace Tussock.Layout;

/// <summary>Draws where the lines of a season go.</summary>
public static class SeasonLayout
{
    /// <summary>Points of the frame by which strata are measured against each other.</summary>
    private const int AreaPoints = 2_592;

    /// <summary>Draws a layout.</summary>
    /// <param name="request">The land and what is asked.</param>
    /// <param name="seed">Any number; the same seed gives the same layout, whatever order the land is given in.</param>
    /// <param name="cancel">Ends the drawing with an exception.</param>
    /// <returns>The lines. New ones lie wholly on their land, as far from each other, from former lines, edges and zones as asked; where not all find room, a shortfall says so and what would fit.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A number of the rules is outside its range.</exception>
    /// <remarks>Starts by balanced acceptance sampling; each pasture, and each stratum, has chance of its own, so that further land moves a line only where it would come too near. Cost: about 10 ms a line on a pasture of some hundred corners.</remarks>
    /// <source>Robertson et al. 2013, Biometrics 69:776–784 (starts). Lines by drawn bearings, strata by area: common practice, no source.</source>
    /// <check>published-values</check>
    public static DrawnLayout Draw(LayoutRequest request, ulong seed, CancellationToken cancel = default)
    {
        Check(request.Rules);
        var drawing = new Drawing(request, seed, cancel);
        drawing.TakeUp();
        foreach (var pasture in request.Areas.OrderBy(a => a.Property, StringComparer.Ordinal).ThenBy(a => a.Pasture, StringComparer.Ordinal).ThenBy(a => a.Stratum, StringComparer.Ordinal).GroupBy(a => (a.Property, a.Pasture)))
            drawing.Pasture([.. pasture]);
        return drawing.Drawn();
    }

    private static void Check(LayoutRules rules)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(rules.Lines is >= 1 and <= 200, true, nameof(rules));
        ArgumentOutOfRangeException.ThrowIfNotEqual(rules.Stations is >= 1 and <= 200, true, nameof(rules));
        ArgumentOutOfRangeException.ThrowIfNotEqual(rules is { StepM: > 0 and <= 3, StepsBetween: >= 1 and <= 1000, SeparationM: >= 0 and <= 100_000, EdgeM: >= 0 and <= 100_000, GradientDeg: null or (>= 0 and < 360) }, true, nameof(rules));
    }

    /// <summary>One layout in the making.</summary>
    private sealed class Drawing(LayoutRequest request, ulong seed, CancellationToken cancel)
    {
        private readonly LayoutRules rules = request.Rules;
        private readonly List<PlannedLine> lines = [];
        private readonly List<LayoutShortfall> shortfalls = [];
        private readonly List<Phrase> remarks = [];
        private readonly LineNames names = new(request.Areas.Select(a => (a.Property, a.Pasture)).Order(), request.Former.Select(f => f.Name).Concat(request.Taken));

        internal DrawnLayout Drawn() => new([.. lines], [.. shortfalls], [.. remarks]);

        internal void TakeUp()
        {
            foreach (var former in request.Former.OrderBy(f => f.Name, StringComparer.Ordinal))
            {
                var areas = request.Areas.Where(a => a.Property == former.Property && a.Pasture == former.Pasture).ToArray();
                var area = areas.FirstOrDefault(a => a.Boundary.Contains(former.Path[0])) ?? areas.FirstOrDefault();
                var flags = FormerCourse.Flags(former, rules);
                if (area is null || flags.Length < 2)
                {
                    remarks.Add(Phrase.Of(area is null ? "plan.former_no_pasture" : "plan.former_too_short", ("line", former.Name), ("pasture", former.Pasture)));
                    continue;
                }

                Remark(former.Name, area, flags);
                var bearing = (int)Math.Round(Offset.Between(flags[0], flags[1]).BearingTrueDeg) % 360;
                lines.Add(Line(area, former.Name, LineForm.Former, bearing, [], flags));
            }
        }

        internal void Pasture(ImmutableArray<LayoutArea> strata)
        {
            var grounds = strata.Select(s => new Ground(s, request.Zones, rules.EdgeM)).ToArray();
            var asked = Shares(strata, grounds);
            for (var i = 0; i < strata.Length; i++)
            {
                if (asked[i] == 0) continue;
                var others = lines.Select(l => l.Flags).ToList();
                var own = Own(strata[i]);
                var found = new LineSearch(grounds[i], rules, others, own, cancel).For(asked[i]);
                foreach (var line in found.Lines) lines.Add(Line(strata[i], names.Next((strata[i].Property, strata[i].Pasture)), line.Shape.Form, line.BearingDeg, line.Shape.Turns(line.BearingDeg), line.Flags));
                if (found.Lines.Length < asked[i]) shortfalls.Add(new WhatFits(strata[i], request, others, own, cancel).Of(found, grounds[i], asked[i]));
            }
        }

        /// <summary>New lines a stratum: in proportion to its area, one at least, the largest remainders first; former lines count where they lie.</summary>
        private int[] Shares(ImmutableArray<LayoutArea> strata, Ground[] grounds)
        {
            var there = strata.Select(s => lines.Count(l => l.IsFormer && l.Property == s.Property && l.Pasture == s.Pasture && l.Stratum == s.Stratum)).ToArray();
            if (strata.Length == 1) return [Math.Max(0, rules.Lines - there[0])];
            var areas = grounds.Select(Area).ToArray();
            var total = Math.Max(rules.Lines, strata.Length);
            var even = areas.Select(a => a / Math.Max(areas.Sum(), double.Epsilon) * total).ToArray();
            var shares = even.Select(e => Math.Max(1, (int)e)).ToArray();
            while (shares.Sum() < total) shares[Enumerable.Range(0, shares.Length).MaxBy(i => even[i] - shares[i])]++;
            while (shares.Sum() > total) shares[Enumerable.Range(0, shares.Length).Where(i => shares[i] > 1).MinBy(i => even[i] - shares[i])]--;
            return [.. shares.Select((s, i) => Math.Max(0, s - there[i]))];
        }

        private static double Area(Ground ground) => !ground.IsLand ? 0 :
            ground.Frame.AreaM2 * Enumerable.Range(0, AreaPoints).Count(n => ground.Holds(ground.Frame.At(BalancedAcceptance.From(0, 0).Point(n)))) / AreaPoints;

        private void Remark(string name, LayoutArea area, ImmutableArray<Position> flags)
        {
            var ground = new Ground(area, request.Zones, rules.EdgeM);
            var spots = flags.Select(ground.Plane.At).ToArray();
            if (!ground.Holds(spots[0]) || !ground.HoldsLine(spots)) remarks.Add(Phrase.Of("plan.former_outside", ("line", name), ("pasture", area.Pasture)));
            if (flags.Length <= rules.Stations) remarks.Add(Phrase.Of("plan.former_shorter", ("line", name), ("stations", flags.Length - 1), ("asked", rules.Stations)));
            var others = EdgeSet.OfLines(lines.Select(l => l.Flags.Select(ground.Plane.At).ToImmutableArray()));
            if (Enumerable.Range(1, spots.Length - 1).Any(i => others.IsNear(spots[i - 1], spots[i], rules.SeparationM))) remarks.Add(Phrase.Of("plan.former_near", ("line", name), ("metres", rules.SeparationM)));
        }

        private PlannedLine Line(LayoutArea area, string name, LineForm form, int bearing, ImmutableArray<LineCorner> corners, ImmutableArray<Position> flags) => new()
        {
            Property = area.Property,
            Pasture = area.Pasture,
            Stratum = area.Stratum,
            Name = name,
            Form = form,
            BearingTrueDeg = bearing,
            Corners = corners,
            Flags = flags,
            Stations = StationTurns.Of(flags.Length - 1, rules, Seeded.Of(Mixed(seed, name))),
        };

        private ulong Own(LayoutArea area) => Mixed(Mixed(Mixed(seed, area.Property), area.Pasture), area.Stratum);

        /// <summary>A seed of a seed and a name.</summary>
        private static ulong Mixed(ulong seed, string name)
        {
            var state = Seeded.SplitMix(ref seed);
            foreach (var letter in name)
            {
                state ^= letter;
                state = Seeded.SplitMix(ref state);
            }

            return state;
        }
    }
}
