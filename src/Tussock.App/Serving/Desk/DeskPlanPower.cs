using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http;
using Tussock.App.Commands;
using Tussock.Desk.Before;
using Tussock.Desk.Pages;
using Tussock.Planning.Power;
using Tussock.Records;
using Tussock.Simulation;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>Whether a design can answer its question, asked at the desk: the same answer as the command line gives, of fewer seasons.</summary>
internal static class DeskPlanPower
{
    /// <summary>Seasons that a page is worth waiting for: each chance is known within 2.5 points.</summary>
    private const int Seasons = 400;

    private static readonly ImmutableArray<PlanField> Fields =
    [
        new("transects", PlanBox.Whole, "6", 1, 60), new("nests", PlanBox.Whole, "8", 1, 60), new("pastures", PlanBox.Whole, "1", 1, 20), new("survival_percent", PlanBox.Number, "40", 0.1, 99.9), new("transect_sd", PlanBox.Number, "0.7", 0, 3),
        new("clumps_per_acre", PlanBox.Optional, "", 1, 20_000), new("density_cv", PlanBox.Number, "0.4", 0, 3), new("not_relocated_percent", PlanBox.Number, "0", 0, 95), new("late_days", PlanBox.Whole, "0", 0, 14),
        new("benchmark_percent", PlanBox.Number, "50", 1, 99), new("seed", PlanBox.Whole, "1", 0, 1_000_000_000), new("designs", PlanBox.Tick, "yes"), new("curves", PlanBox.Tick, ""),
    ];

    internal static (Type, Dictionary<string, object?>, int) Page(Season? season, Func<string, string?> sent, Catalogue words, CancellationToken stop)
    {
        var typed = PlanTyped.Of(Fields, sent);
        var parts = new Dictionary<string, object?> { ["Typed"] = typed };
        if (sent("from") == "season")
        {
            var earlier = season is null ? NoAnswer.Because("plan_desk.no_season") : EarlierSeason.Of(season);
            if (!earlier.HasValue) parts["Wrong"] = new[] { earlier.Why };
            else (parts["Typed"], parts["Earlier"]) = (Filled(typed, earlier.Value), earlier.Value.Name);
            return (typeof(PlanPower), parts, StatusCodes.Status200OK);
        }

        if (!typed.IsSent) return (typeof(PlanPower), parts, StatusCodes.Status200OK);
        if (!typed.Wrong.IsEmpty) return (typeof(PlanPower), parts, StatusCodes.Status422UnprocessableEntity);
        var question = Question(typed);
        if (question.Wrong() is { IsEmpty: false } wrong)
        {
            parts["Wrong"] = wrong;
            return (typeof(PlanPower), parts, StatusCodes.Status422UnprocessableEntity);
        }

        var answer = PowerAnswer.Of(question, new PowerExtras { Designs = typed.Is("designs"), Curves = typed.Is("curves") }, null, stop);
        parts["Answer"] = answer;
        if (answer.Curves is { } curves) parts["Picture"] = PowerPicture.Draw(answer, curves, words);
        return (typeof(PlanPower), parts, StatusCodes.Status200OK);
    }

    private static PlanTyped Filled(PlanTyped typed, EarlierSeason earlier)
    {
        string Short(double x, int digits) => Math.Round(x, digits).ToString(CultureInfo.InvariantCulture);
        var filled = typed.With(
            ("nests", Short(Math.Clamp(earlier.NestsALine, 1, 60), 0)), ("transects", Short(Math.Clamp(earlier.Lines, 1, 60), 0)), ("survival_percent", Short(Math.Clamp(100 * earlier.Survival, 0.1, 99.9), 1)),
            ("transect_sd", Short(Math.Min(3, earlier.LineSd), 2)), ("not_relocated_percent", Short(Math.Min(95, 100 * earlier.Unknown), 1)));
        return earlier is { PerAcre: { } density, DensityCv: { } cv } ? filled.With(("clumps_per_acre", Short(Math.Clamp(density, 1, 20_000), 0)), ("density_cv", Short(Math.Min(3, cv), 2))) : filled;
    }

    private static PowerQuestion Question(PlanTyped typed)
    {
        var usual = new SeasonTruth();
        return new PowerQuestion
        {
            Pastures = typed.Whole("pastures"),
            Design = new SeasonDesign(typed.Whole("transects"), typed.Whole("nests")),
            Truth = new SeasonTruth
            {
                Survival = typed.Number("survival_percent") / 100,
                LineSd = typed.Number("transect_sd"),
                EarlyShare = usual.EarlyShare,
                NotRelocated = typed.Number("not_relocated_percent") / 100,
                LateDays = typed.Whole("late_days"),
                PerAcre = typed.Perhaps("clumps_per_acre") ?? usual.PerAcre,
                DensityCv = typed.Number("density_cv"),
            },
            HasDensity = typed.Perhaps("clumps_per_acre") is not null,
            SurvivalBenchmark = typed.Number("benchmark_percent") / 100,
            Seasons = Seasons,
            Seed = (ulong)typed.Number("seed"),
        };
    }
}
