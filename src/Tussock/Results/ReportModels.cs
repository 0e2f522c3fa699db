using System.Collections.Immutable;
using Tussock.Models;
using Tussock.Numerics;

namespace Tussock.Results;

/// <summary>What a report says of what goes with survival: the usual models of the whole season with a random transect, in survival terms, and the ratio of the two roles of cover against clump density.</summary>
/// <remarks>Same results, same bits. May be shared between threads.</remarks>
public sealed record ReportModels
{
    /// <summary>Share of transects between the two ends of <see cref="Between"/>.</summary>
    public const double MostTransects = 0.95;

    private const string Cover = "cover";

    /// <summary>Steps of a course of survival from day 0 to the end.</summary>
    private const int CourseSteps = 28;

    /// <summary>The best of the usual models, with all of them compared; a reason where none can be fitted.</summary>
    public required Answer<SeasonModel> Season { get; init; }

    /// <summary>Survival of a typical nest on the transects at the two ends of the middle 95 % of all, without doubt of its own; null where transects are not seen to differ or there is no model.</summary>
    public required (double Low, double High)? Between { get; init; }

    /// <summary>Survival over the days by cover class; a reason where there is no such model.</summary>
    public required Answer<CoverCourses> Courses { get; init; }

    /// <summary>Survival in other cover by survival in grass, against clump density; a reason where it can't be had.</summary>
    public required Answer<DensityRatio> Ratio { get; init; }

    /// <summary>Fits the usual models and puts them into survival terms.</summary>
    /// <param name="results">The answer of the season.</param>
    public static ReportModels Of(SeasonResults results)
    {
        ArgumentNullException.ThrowIfNull(results);
        var season = SeasonModel.Of(results.Season, new ModelRequest { Random = ["transect"], Compare = [] });
        return new ReportModels
        {
            Season = season,
            Between = season.HasValue ? BetweenTransects(season.Value) : null,
            Courses = season.HasValue ? CoursesOf(season.Value) : new NoAnswer(season.Why),
            Ratio = DensityRatio.Of(results),
        };
    }

    private static (double Low, double High)? BetweenTransects(SeasonModel season)
    {
        if (season.Model is not { Grouped: { } fit, Random: [{ Spread.Sd.Value: > 0 and var sd }, ..] }) return null;
        var course = PredictedNest.Of(season.Model.Design, Pattern.Typical).Value.Course(season.Days);
        var reach = Tails.NormalQuantile((1 + MostTransects) / 2) * sd;
        return (At(-reach), At(reach)) is ({ } one, { } other) ? (Math.Min(one, other), Math.Max(one, other)) : null;

        double? At(double shift) => GroupedSurvival.Typical(fit, [.. course.Select(piece => piece with { Offset = piece.Offset + shift })], season.Days).Value;
    }

    /// <summary>The courses of the best model that has cover among its effects.</summary>
    private static Answer<CoverCourses> CoursesOf(SeasonModel season)
    {
        foreach (var ranked in season.Comparison!.Ranked)
        {
            var model = season.Models.First(m => m.Design.Choice.ToString() == ranked.Model.Name);
            if (!model.Design.Choice.Effects.Contains(Cover)) continue;
            var classes = model.Design.Effects.First(e => e.Name == Cover).Levels;
            if (classes.Length > 1) return new CoverCourses(model.Design.Choice, ranked.Weight, [.. classes.Select(c => new CoverCourse(c, Course(model, Pattern.Typical.With(Cover, c), season.Days)))]);
        }

        return NoAnswer.Because("model_report.one_cover");
    }

    private static ImmutableArray<DaySurvival> Course(FittedModel model, Pattern pattern, double days)
    {
        var nest = PredictedNest.Of(model.Design, pattern).Value;
        return [.. Enumerable.Range(1, CourseSteps).Select(i => new DaySurvival(days * i / CourseSteps, model.Predict(nest, days * i / CourseSteps).Shown))];
    }
}

/// <summary>Survival over the days by cover class, all else as on the season's typical nest.</summary>
/// <param name="Model">Effects of the model it comes from: the best that has cover.</param>
/// <param name="Weight">Weight of that model among those compared, in [0, 1].</param>
/// <param name="Classes">The classes, the reference first; at least two.</param>
public sealed record CoverCourses(EffectChoice Model, double Weight, ImmutableArray<CoverCourse> Classes);

/// <summary>Survival over the days in one cover class, averaged over transects.</summary>
/// <param name="Cover">The class.</param>
/// <param name="Days">Days after set-out in order, the last the end of the trial.</param>
public sealed record CoverCourse(string Cover, ImmutableArray<DaySurvival> Days)
{
    /// <summary>Survival to the end of the trial.</summary>
    public Estimate AtEnd => Days[^1].Survival;
}

/// <summary>Survival to one day.</summary>
/// <param name="Day">Days since set-out.</param>
/// <param name="Survival">Survival averaged over transects, with limits of that day by itself.</param>
public readonly record struct DaySurvival(double Day, Estimate Survival);
