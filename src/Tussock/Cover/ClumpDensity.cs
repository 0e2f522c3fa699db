using System.Collections.Immutable;
using Tussock.Measures;
using Tussock.Numerics;

namespace Tussock.Cover;

/// <summary>How many suitable clumps stand on an acre of a group's land, and how sure that is.</summary>
/// <remarks>Limits belong to the interval. Empty belts give no number and a reason. May be shared between threads.</remarks>
public sealed record ClumpDensity
{
    /// <summary>The method of the interval, as results name it.</summary>
    public const string BetweenLinesMethod = "ratio variance between transects, log scale, t(m - 1)";

    /// <summary>The method of the interval when one line alone was walked.</summary>
    public const string BetweenSegmentsMethod = "ratio variance between segments of one line, log scale, t(m - 1)";

    /// <summary>The method of the upper limit when no clump was found.</summary>
    public const string PoissonMethod = "no clump: exact Poisson upper limit, clumps independent";

    /// <summary>Clumps counted (means of passes, hence perhaps fractional).</summary>
    public required double Clumps { get; init; }

    /// <summary>Area looked at, m², each segment once.</summary>
    public required double AreaM2 { get; init; }

    /// <summary>Number of lines with counted area.</summary>
    public required int Lines { get; init; }

    /// <summary>Number of units behind the variance: lines, or the segments of a single line.</summary>
    public required int Units { get; init; }

    /// <summary>Segments on record that were not counted.</summary>
    public required int SegmentsNotCounted { get; init; }

    /// <summary>Segments that were walked more than once, and the mean of what their passes differ by; null when none was.</summary>
    public required (int Segments, double MeanDifference)? Passes { get; init; }

    /// <summary>Clumps an acre; its interval holds the walkers' own error when that is known.</summary>
    public required Estimate PerAcre { get; init; }

    /// <summary>Clumps an acre with the interval between lines alone; the same as <see cref="PerAcre"/> when the walkers' error is not known.</summary>
    public required Estimate PerAcreBetweenLines { get; init; }

    /// <summary>Clumps a hectare, as <see cref="PerAcre"/>.</summary>
    public required Estimate PerHa { get; init; }

    /// <summary>Chance in [0, 1] that the density is at or above the benchmark, from the interval of <see cref="PerAcre"/>.</summary>
    public required Answer<double> ChanceAtLeastBenchmark { get; init; }

    /// <summary>Clump density of a group's belts.</summary>
    /// <param name="units">Merged units of the group, any order; areas in m².</param>
    /// <param name="question">Benchmark, classes, and walks of the measured course.</param>
    /// <returns>
    /// D = Σy/Σx over lines with limits D·exp(±t(.975, m − 1)·se/D), and chance T(m − 1)((log D − log B)·D/se). Reasons instead: no area;
    /// no clump (low 0, high 3.689/Σx, no chance); lines that do not differ (no interval, no chance). One line: its segments are the units, with a warning.
    /// </returns>
    /// <remarks>
    /// With walks of the course, (se/D)² gains Σw²(cv_step² + cv_span²), w a walker's share of the area. Misleads when lines were laid where
    /// the cover is, and with few lines: the lines are taken as a random sample. Cost O(n log n).
    /// </remarks>
    /// <source>Cochran 1977, Sampling Techniques, 3rd ed., pp. 150–164; Fewster et al. 2009, Biometrics 65:225–236; upper limit for no clump: Garwood 1936, Biometrika 28:437–442. The limits on the log scale: common practice, no source.</source>
    /// <check>reference-seasons</check>
    public static ClumpDensity Of(IEnumerable<BeltUnit> units, DensityQuestion question)
    {
        var segments = SegmentDensity.Along(units, question);
        var counted = segments.Where(s => s.IsCounted).ToArray();
        var lines = counted.GroupBy(s => s.Line).ToArray();
        var y = lines.Length == 1 ? [.. counted.Select(s => s.Clumps)] : lines.Select(l => l.Sum(s => s.Clumps)).ToArray();
        var x = lines.Length == 1 ? [.. counted.Select(s => s.AreaM2)] : lines.Select(l => l.Sum(s => s.AreaM2)).ToArray();
        var passes = PassesOf(counted);
        var notes = Notes(passes, segments.Length - counted.Length);
        var belt = new Belt(y, x, lines.Length, SharesOf(counted), question);
        var between = belt.Interval(null);
        var walkers = CalibratedWalkers.SquaredError(belt.Areas, question.Walks);
        var whole = walkers is null ? between : belt.Interval(walkers);
        return new ClumpDensity
        {
            Clumps = y.Sum(),
            AreaM2 = x.Sum(),
            Lines = lines.Length,
            Units = y.Length,
            SegmentsNotCounted = segments.Length - counted.Length,
            Passes = passes,
            PerAcre = whole.PerAcre with { Notes = whole.PerAcre.Notes.AddRange(notes) },
            PerAcreBetweenLines = between.PerAcre with { Notes = between.PerAcre.Notes.AddRange(notes) },
            PerHa = InHectares(whole.PerAcre with { Notes = whole.PerAcre.Notes.AddRange(notes) }),
            ChanceAtLeastBenchmark = whole.Chance,
        };
    }

    private static (int Segments, double MeanDifference)? PassesOf(SegmentDensity[] counted)
    {
        var differences = counted.Select(s => s.PassDifference).OfType<double>().ToArray();
        return differences.Length == 0 ? null : (differences.Length, differences.Average());
    }

    private static ImmutableArray<Phrase> Notes((int Segments, double MeanDifference)? passes, int notCounted)
    {
        var notes = ImmutableArray.CreateBuilder<Phrase>();
        if (passes is { } p) notes.Add(Phrase.Of("density.passes", ("segments", p.Segments), ("difference", p.MeanDifference)));
        if (notCounted > 0) notes.Add(Phrase.Of("density.not_counted", ("segments", notCounted)));
        return notes.ToImmutable();
    }

    private static ImmutableDictionary<string, double> SharesOf(SegmentDensity[] counted)
    {
        var areas = new SortedDictionary<string, double>(StringComparer.Ordinal);
        foreach (var s in counted)
        {
            ReadOnlySpan<string> walkers = s.Walkers.IsEmpty ? [""] : s.Walkers.AsSpan();
            foreach (var walker in walkers) areas[walker] = areas.GetValueOrDefault(walker) + s.AreaM2 / walkers.Length;
        }

        return areas.ToImmutableDictionary(StringComparer.Ordinal);
    }

    private static Estimate InHectares(Estimate perAcre) => perAcre with
    {
        Value = PerHectare(perAcre.Value),
        Low = PerHectare(perAcre.Low),
        High = PerHectare(perAcre.High),
        Se = PerHectare(perAcre.Se),
    };

    private static double? PerHectare(double? perAcre) => perAcre is { } d ? Area.PerHectareFromPerAcre(d) : null;

    private sealed record Belt(double[] Y, double[] X, int Lines, ImmutableDictionary<string, double> Areas, DensityQuestion Question)
    {
        // Differences between units that are no more than rounding are none.
        private const double Rounding = 1e-10;

        private string Method => Lines == 1 ? BetweenSegmentsMethod : BetweenLinesMethod;

        public (Estimate PerAcre, Answer<double> Chance) Interval(double? walkers)
        {
            if (X.Sum() <= 0) return Nothing("density.no_belt");
            var ratio = RatioEstimator.Of(Y, X);
            if (ratio.Ratio == 0) return NoClump();
            var perAcre = Area.PerAcre(ratio.Ratio);
            var plain = new Estimate { Method = Method, Value = perAcre, Notes = Notes() };
            if (ratio.Se is not { } se) return Missing(plain, "density.one_segment");
            if (se < Rounding * ratio.Ratio) return Missing(plain with { Se = 0 }, "density.no_difference");
            var relative = Math.Sqrt(se / ratio.Ratio * (se / ratio.Ratio) + (walkers ?? 0));
            var spread = Math.Exp(Tails.StudentQuantile(0.975, ratio.Units - 1) * relative);
            var estimate = plain with { Se = perAcre * relative, Low = perAcre / spread, High = perAcre * spread, Method = walkers is null ? Method : Method + ", with walkers' step and span" };
            return (estimate, Tails.StudentBelow(Math.Log(perAcre / Question.BenchmarkPerAcre) / relative, ratio.Units - 1));
        }

        private ImmutableArray<Phrase> Notes() => Lines switch
        {
            1 => [Phrase.Of("density.one_line")],
            < 4 => [Phrase.Of("density.few_lines", ("lines", Lines))],
            _ => [],
        };

        private (Estimate PerAcre, Answer<double> Chance) NoClump() =>
            (new Estimate { Method = PoissonMethod, Value = 0, Low = 0, High = -Math.Log(0.025) / Area.Acres(X.Sum()), Notes = [Phrase.Of("density.no_clump")] }, NoAnswer.Because("density.no_clump_chance"));

        private static (Estimate PerAcre, Answer<double> Chance) Missing(Estimate estimate, string why) =>
            (estimate with { Why = Phrase.Of(why) }, NoAnswer.Because(why));

        private (Estimate PerAcre, Answer<double> Chance) Nothing(string why) => (Estimate.None(Method, Phrase.Of(why)), NoAnswer.Because(why));
    }
}
