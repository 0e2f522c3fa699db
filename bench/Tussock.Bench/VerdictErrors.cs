using System.Globalization;
using Tussock.Planning.Power;
using Tussock.Simulation;

namespace Tussock.Bench;

/// <summary>How often calls stand on the wrong side of the truth, over a grid of truths and designs; what <c>tests/checks/verdict-errors</c> holds.</summary>
/// <remarks>A season takes its chance from its own number: the same table at any number of threads.</remarks>
internal static class VerdictErrors
{
    private const ulong Seed = 2026;

    private static readonly int[] Lines = [4, 5, 6, 8, 12, 24], SomeLines = [4, 6, 12, 24];
    private static readonly double[] Spreads = [0, 0.5, 1, 1.5], SomeSpreads = [0.5, 1];

    internal static void Run(int seasons)
    {
        Console.WriteLine("about,lines,nests,survival,line_sd,early_share,not_relocated,lost_not_relocated,late_days,per_acre,density_cv,seasons,wrong,not_called,naive_wrong,coverage,mean_width");
        foreach (var (lines, nests, sd, survival) in from n in (int[])[12, 8, 16] from l in Lines from sd in Spreads from s in (double[])[0.4, 0.6] select (l, n, sd, s))
            Survival(lines, nests, seasons, new SeasonTruth { Survival = survival, LineSd = sd });
        SeasonTruth[] conditions =
        [
            new() { LostNotRelocated = 0.1 }, new() { LostNotRelocated = 0.2 }, new() { NotRelocated = 0.1 }, new() { EarlyShare = 0.75 }, new() { EarlyShare = 0.25 },
            new() { EarlyShare = 0.75, LostNotRelocated = 0.1, NotRelocated = 0.05 },
        ];
        foreach (var (truth, lines, sd, survival) in from c in conditions from l in SomeLines from sd in SomeSpreads from s in (double[])[0.4, 0.6] select (c, l, sd, s))
            Survival(lines, 12, seasons, truth with { Survival = survival, LineSd = sd });
        foreach (var (lines, sd, survival) in from l in SomeLines from sd in SomeSpreads from s in (double[])[0.3, 0.5, 0.7] select (l, sd, s))
            Survival(lines, 12, seasons, new SeasonTruth { Survival = survival, LineSd = sd });
        foreach (var (lines, cv, perAcre) in from l in Lines from cv in (double[])[0.3, 0.6, 0.9] from d in (double[])[210, 390] select (l, cv, d))
            Density(lines, 12, 5 * seasons, new SeasonTruth { PerAcre = perAcre, DensityCv = cv });
    }

    private static void Survival(int lines, int nests, int seasons, SeasonTruth truth)
    {
        var question = new PowerQuestion { Design = new(lines, nests), Truth = truth, Seed = Seed };
        var rates = CallRates.Of(question, question.Design, seasons);
        Row("survival", question, rates, rates.SurvivalWrong, rates.NotEnough, rates.NaiveWrong, rates.Coverage, rates.MeanWidth);
    }

    private static void Density(int lines, int nests, int seasons, SeasonTruth truth)
    {
        var question = new PowerQuestion { Design = new(lines, nests), Truth = truth, Seed = Seed, HasDensity = true };
        var rates = CallRates.OfDensity(question, question.Design, seasons);
        Row("density", question, rates, rates.DensityWrong!.Value, 1 - rates.DensityLikely!.Value - rates.DensityUnlikely!.Value, null, null, null);
    }

    private static void Row(string about, PowerQuestion question, CallRates rates, double wrong, double notCalled, double? naive, double? coverage, double? width)
    {
        var (t, d) = (question.Truth, question.Design);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{about},{d.Lines},{d.Nests},{t.Survival},{t.LineSd},{t.EarlyShare},{t.NotRelocated},{t.LostNotRelocated},{t.LateDays},{t.PerAcre},{t.DensityCv},{rates.Seasons},{wrong:F4},{notCalled:F4},{naive:F4},{coverage:F4},{width:F4}"));
        Console.Out.Flush();
    }
}
