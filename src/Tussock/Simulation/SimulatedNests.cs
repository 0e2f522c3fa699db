using System.Collections.Immutable;
using Tussock.Cover;
using Tussock.Fates;
using Tussock.Measures;
using Tussock.Numerics;
using Tussock.Survival;

namespace Tussock.Simulation;

/// <summary>Nests and belts of one invented trial after another, in the same room: visits are drawn, and what they say about each nest is written by the rule of fates.</summary>
/// <remarks>
/// One instance a thread; a draw overwrites the one before. Chance is taken line by line, so the first lines of a trial with more lines are those of
/// a trial with fewer: designs are compared on the same luck.
/// </remarks>
internal sealed class SimulatedNests
{
    /// <summary>Poisson numbers are drawn in parts of at most this mean.</summary>
    private const double LargestMean = 400;

    private readonly SeasonDesign design;
    private readonly SeasonTruth truth;
    private readonly LineHazards hazards;
    private readonly Trial trial;
    private readonly double densitySd;
    private readonly BeltUnit[] belts;

    internal SimulatedNests(SeasonDesign design, SeasonTruth truth, Trial trial)
        : this(design, truth, truth.Hazards(), trial)
    {
    }

    internal SimulatedNests(SeasonDesign design, SeasonTruth truth, LineHazards hazards, Trial trial)
    {
        (this.design, this.truth, this.hazards, this.trial) = (design, truth, hazards, trial);
        densitySd = Math.Sqrt(Math.Log(1 + (truth.DensityCv * truth.DensityCv)));
        belts = new BeltUnit[design.Lines];
        LateDays = new int[design.Lines];
        var n = design.Lines * design.Nests;
        IsOpen = new bool[n];
        Spans = new NestSpans
        {
            LastIntact = new double[n],
            FirstLost = new double[n],
            LostAt = [.. Enumerable.Repeat(double.NaN, n)],
            Line = [.. Enumerable.Range(0, n).Select(i => i / design.Nests)],
            Transect = [.. Enumerable.Range(0, n).Select(i => i / design.Nests)],
            Nest = [.. Enumerable.Range(0, n).Select(i => (i % design.Nests) + 1)],
            Cover = [.. Enumerable.Range(0, n).Select(i => i % design.Nests % 2)],
            Pasture = new int[n],
            Cause = new Cause[n],
            Day14 = new FateAt[n],
            Day28 = new FateAt[n],
            LineNames = [.. Enumerable.Range(1, design.Lines).Select(l => Words.Numbers.Whole(l))],
            CoverNames = ["reference", "other"],
        };
    }

    /// <summary>What the visits of the last draw say.</summary>
    internal NestSpans Spans { get; }

    /// <summary>Whether the fate of each nest at the end of the trial is open.</summary>
    internal bool[] IsOpen { get; }

    /// <summary>By how many days the checks of each line came late.</summary>
    internal int[] LateDays { get; }

    /// <summary>Whether any is.</summary>
    internal bool HasOpen { get; private set; }

    /// <summary>Belts of the last draw, one a line.</summary>
    internal IReadOnlyList<BeltUnit> Belts => belts;

    /// <summary>Draws a trial.</summary>
    internal void Draw(Seeded chance)
    {
        HasOpen = false;
        for (var line = 0; line < design.Lines; line++)
        {
            var luck = hazards.Sd * chance.NextNormal();
            var late = truth.LateDays == 0 ? 0 : chance.NextBelow(truth.LateDays + 1);
            LateDays[line] = late;
            for (var nest = 0; nest < design.Nests; nest++) Visit((line * design.Nests) + nest, luck, late, chance);
            belts[line] = Belt(line, chance);
        }
    }

    /// <summary>A nest is lost when the hazard has used up its share of luck; what is drawn does not depend on what happens, so that truths are compared on the same luck.</summary>
    private void Visit(int row, double luck, double late, Seeded chance)
    {
        var patience = -Math.Log(1 - chance.NextUniform());
        var found = chance.NextUniform();
        var carried = chance.NextUniform();
        var hazard = Math.Exp((Spans.Cover[row] == 0 ? hazards.Reference : hazards.Other) + luck);
        var shape = new HazardShape(hazards.EarlyShare, trial);
        double first = trial.FirstCheck + late, last = trial.Days + late;
        var lostByFirst = patience < hazard * shape.Upto(first);
        var lostByLast = lostByFirst || patience < hazard * shape.Upto(last);
        var isGone = lostByLast && carried < truth.LostNotRelocated;
        var isSeenLast = !lostByFirst && !isGone && found >= truth.NotRelocated;
        Spans.LastIntact[row] = lostByFirst ? 0 : isSeenLast && !lostByLast ? last : first;
        Spans.FirstLost[row] = lostByFirst && !isGone ? first : isSeenLast && lostByLast ? last : double.PositiveInfinity;
        Spans.Cause[row] = Spans.IsLost(row) ? Cause.Depredated : Cause.None;
        Spans.Day14[row] = FateRule.ByVisits(Spans.LastIntact[row], Spans.FirstLost[row], trial.FirstCheck, trial.Window);
        Spans.Day28[row] = FateRule.ByVisits(Spans.LastIntact[row], Spans.FirstLost[row], trial.Days, trial.Window);
        IsOpen[row] = !Spans.IsLost(row) && Spans.Day28[row] == FateAt.Unknown;
        HasOpen |= IsOpen[row];
    }

    private BeltUnit Belt(int line, Seeded chance)
    {
        var area = design.SegmentM2 * design.Nests;
        var mean = truth.PerAcre * Area.Acres(area) * Math.Exp((densitySd * chance.NextNormal()) - (densitySd * densitySd / 2));
        var clumps = 0;
        for (var left = mean; left > 0; left -= LargestMean) clumps += Simulation.Draw.Poisson(Math.Min(left, LargestMean), chance);
        return new BeltUnit { Line = line, Transect = line, Pasture = 0, Segment = 1, Cover = 0, Clumps = clumps, AreaM2 = area };
    }
}
