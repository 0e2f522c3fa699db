using System.Collections.Immutable;
using Tussock.Evidence.Practice;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Planning.Power;
using Tussock.Records;
using Tussock.Simulation;
using Tussock.Survival;

namespace Tussock.Planning.Practice;

/// <summary>What the records of a season for practice say of a line.</summary>
/// <param name="Name">The line.</param>
/// <param name="LostFirst">Nests found lost at the first check.</param>
/// <param name="Lost">Nests found lost in all.</param>
/// <param name="Whole">Nests whole at the end.</param>
/// <param name="Unknown">Nests whose fate at the end is not known.</param>
/// <param name="Clumps">Clumps counted; null where no belts were walked.</param>
/// <param name="AreaM2">Ground of its belt, m².</param>
public sealed record WalkedLine(string Name, int LostFirst, int Lost, int Whole, int Unknown, int? Clumps, double AreaM2);

/// <summary>An invented season to practise a whole study on: a design, a truth that is drawn and not told, and the records that come of both.</summary>
/// <remarks>
/// Made of its design and a seed alone; same code, same bits. The truth is written nowhere: it is drawn again when it is opened.
/// What is drawn is what <c>tussock power</c> draws; the walked season is the first of those that show how often its design errs.
/// </remarks>
public sealed class PracticeSeason
{
    /// <summary>Seasons of the same truth that show how often a design errs: each chance is known within 2.5 points.</summary>
    public const int Others = 400;

    // Streams of chance beside those of the seasons, which count from 1.
    private const ulong OfTruth = 1_000_001, OfCulprits = 1_000_002, OfRecords = 1_000_003;
    private const double LeastSurvival = 0.2, MostSurvival = 0.8, LeastPerAcre = 110, MostPerAcre = 800, CulpritSpread = 0.6;

    private PracticeSeason(PracticeDesign design, ulong seed)
    {
        (Design, Seed) = (design, seed);
        Truth = Drawn(Seeded.Of(seed, OfTruth), design.HasBelts);
        var chance = Seeded.Of(seed, OfCulprits);
        var weights = InventedNests.Standard.Shares.Select(s => s * Math.Exp(CulpritSpread * chance.NextNormal())).ToArray();
        Culprits = [.. weights.Select(w => w / weights.Sum())];
    }

    /// <summary>What the student decided.</summary>
    public PracticeDesign Design { get; }

    /// <summary>Seed of all chance.</summary>
    public ulong Seed { get; }

    /// <summary>What is true there.</summary>
    public SeasonTruth Truth { get; }

    /// <summary>Chance that a loss is by each class of <see cref="CulpritTokens"/>; they add to 1.</summary>
    public ImmutableArray<double> Culprits { get; }

    /// <summary>Tokens of the culprit classes; the last is "not on the list".</summary>
    public static ImmutableArray<string> CulpritTokens => InventedNests.Standard.Catalogue.Culprits;

    /// <summary>The sealed code: all that the season is made of, but not to be read by eye.</summary>
    public string Code => PracticeCode.Of(Design, Seed);

    /// <summary>Benchmark of survival.</summary>
    public double SurvivalBenchmark => Question.SurvivalBenchmark;

    /// <summary>The question about the design that the truth answers.</summary>
    internal PowerQuestion Question => new() { Design = Design.Judged, Truth = Truth, HasDensity = Design.HasBelts, Trial = Design.Trial, Seasons = Others, Seed = Seed };

    /// <summary>The season of a design and a seed.</summary>
    /// <exception cref="ArgumentException">Something is wrong with the design.</exception>
    public static PracticeSeason Of(PracticeDesign design, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(design);
        return design.Wrong().IsEmpty ? new PracticeSeason(design, seed) : throw new ArgumentException("The design is wrong: " + design.Wrong()[0].Key, nameof(design));
    }

    /// <summary>The season of a sealed code; null where it is none.</summary>
    public static PracticeSeason? OfCode(string code) => PracticeCode.Read(code) is var (design, seed) ? new PracticeSeason(design, seed) : null;

    /// <summary>The season's records, as they would have come from the field: nothing in them tells the truth.</summary>
    public SeasonTables Records() => new WalkedRecords(Walked(), Design.Judged, Design.Trial, Seeded.Of(Seed, OfRecords)).Tables(Code, Design.HasBelts, Culprits);

    /// <summary>What the records say of each line, added up.</summary>
    public ImmutableArray<WalkedLine> Lines()
    {
        var nests = Walked();
        return
        [
            .. Enumerable.Range(0, Design.Lines).Select(line =>
            {
                var rows = Enumerable.Range(line * Design.Nests, Design.Nests).ToArray();
                return new WalkedLine(WalkedRecords.Line(line), rows.Count(r => nests.Spans.FirstLost[r] <= Design.FirstCheck + nests.LateDays[line]), rows.Count(r => nests.Spans.IsLost(r)),
                    rows.Count(r => nests.Spans.Day28[r] == FateAt.Survived), rows.Count(r => nests.Spans.Day28[r] == FateAt.Unknown), Design.HasBelts ? (int)nests.Belts[line].Clumps : (int?)null, nests.Belts[line].AreaM2);
            }),
        ];
    }

    /// <summary>The counted share of all nests with its interval, as every season has it.</summary>
    public Estimate Share() => CountedShare.Of(Walked().Spans, Design.Trial, TrialDay.End).Share;

    private SimulatedNests Walked()
    {
        var nests = new SimulatedNests(Design.Judged, Truth, Design.Trial);
        nests.Draw(Seeded.Of(Seed, 1));
        return nests;
    }

    /// <summary>Survival from 20 to 80 %, lines that differ little or much, density about evenly around the benchmark on a logarithmic scale, some nests that are not found, a late check or two. Judgement, no source.</summary>
    private static SeasonTruth Drawn(Seeded chance, bool hasBelts)
    {
        double Between(double least, double most) => least + ((most - least) * chance.NextUniform());
        var truth = new SeasonTruth
        {
            Survival = Between(LeastSurvival, MostSurvival),
            LineSd = Between(0.2, 1.2),
            EarlyShare = Between(0.35, 0.65),
            NotRelocated = Between(0, 0.12),
            LostNotRelocated = Between(0, 0.08),
            LateDays = chance.NextBelow(4),
            DensityCv = Between(0.2, 0.6),
        };
        var density = LeastPerAcre * Math.Pow(MostPerAcre / LeastPerAcre, chance.NextUniform());
        return hasBelts ? truth with { PerAcre = density } : truth;
    }
}
