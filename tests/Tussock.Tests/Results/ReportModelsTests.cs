using Tussock.Models;
using Tussock.Numerics;
using Tussock.Records;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Tests.Review;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Results;

public class ReportModelsTests
{
    private static readonly Lazy<SeasonResults> LazyDemo = new(() => SeasonResults.Of(SeasonReading.Read(DemoSeason.Write(1), out _)!));
    private static readonly Lazy<ReportModels> LazyModels = new(() => ReportModels.Of(LazyDemo.Value));

    private static ReportModels Demo => LazyModels.Value;

    private static ReportModels Of(SmallSeason season) => ReportModels.Of(SeasonResults.Of(season.Read()));

    [Fact]
    public void The_best_of_the_usual_models_with_a_random_transect_is_shown()
    {
        var season = Demo.Season.Value;
        Assert.Equal(season.Comparison!.Ranked[0].Model.Name, season.Model.Design.Choice.ToString());
        Assert.Equal(["transect"], season.Model.Random.Select(r => r.Group));
        Assert.Equal(season.Comparison.Ranked.Length, season.Models.Length);
    }

    [Fact]
    public void What_transects_differ_by_is_the_survival_of_the_typical_nest_at_the_ends_of_the_middle_95_percent()
    {
        var season = Demo.Season.Value;
        Assert.Equal(["cover", "fortnight"], season.Model.Design.Choice.Effects);
        var b = season.Effects.Select(e => e.Estimate.Value!.Value).ToArray();
        var isOther = PredictedNest.Of(season.Model.Design, Pattern.Typical).Value.Fixed.Single().Value;
        var shift = 1.959963984540054 * season.Model.Random[0].Spread.Sd.Value!.Value;
        Near.Is(At(-shift), Demo.Between!.Value.Low, 1e-10);
        Near.Is(At(shift), Demo.Between.Value.High, 1e-10);

        double At(double u) => Math.Pow(Exponentials.Expit(b[0] + (isOther * b[1]) + u), 14) * Math.Pow(Exponentials.Expit(b[0] + (isOther * b[1]) + b[2] + u), 14);
    }

    [Fact]
    public void Courses_come_from_the_best_model_with_cover_fall_day_by_day_and_end_at_its_prediction()
    {
        var (courses, season) = (Demo.Courses.Value, Demo.Season.Value);
        var ranked = season.Comparison!.Ranked.First(r => EffectChoice.Read(r.Model.Name).Effects.Contains("cover"));
        Assert.Equal((ranked.Model.Name, ranked.Weight), (courses.Model.ToString(), courses.Weight));
        var model = season.Models.Single(m => m.Design.Choice.Equals(courses.Model));
        foreach (var course in courses.Classes)
        {
            Assert.Equal(model.Predict(PredictedNest.Of(model.Design, Pattern.Typical.With("cover", course.Cover)).Value, 28).Average, course.AtEnd);
            Assert.All(course.Days.Skip(1).Zip(course.Days), pair => Assert.True(pair.First.Survival.Value < pair.Second.Survival.Value && pair.First.Survival.Low < pair.First.Survival.Value));
        }
    }

    [Fact]
    public void The_ratio_is_1_at_the_parity_density_and_its_curve_covers_the_densities_walked()
    {
        var (ratio, parity) = (Demo.Ratio.Value, LazyDemo.Value.Parity);
        Near.Is(1, parity.SurvivalRatioAt(parity.PerAcre.Value!.Value, 28).Value!.Value, 1e-9);
        Near.Is(parity.Walked!.Value.Least, ratio.Walked[0], 1e-12);
        Near.Is(parity.Walked.Value.Most, ratio.Walked[^1], 1e-12);
        Assert.True(ratio.Curve[0].PerAcre < ratio.Walked[0] && ratio.Curve[^1].PerAcre > ratio.Walked[^1]);
        Assert.Equal(ratio.Curve.Select(c => c.PerAcre >= ratio.Walked[0] && c.PerAcre <= ratio.Walked[^1]), ratio.Curve.Select(c => c.IsWalked));
        Assert.Equal("bunchgrass", Assert.Single(ratio.Grass));
        Assert.Equal("prickly pear", Assert.Single(ratio.Other));
    }

    [Fact]
    public void Where_nothing_was_lost_each_part_has_its_reason()
    {
        var whole = Of(new SmallSeason().WithAll("visits.csv", "finding", "intact").WithAll("visits.csv", "eggs_intact", "3").Without("remains.csv", _ => true).Without("cameras.csv", _ => true));
        Assert.Equal(["grouped.nothing_lost", "grouped.nothing_lost"], new[] { whole.Season.Why!.Key, whole.Courses.Why!.Key });
        Assert.NotNull(whole.Ratio.Why);
        Assert.Null(whole.Between);
    }

    [Fact]
    public void One_cover_class_has_no_courses_and_no_ratio()
    {
        var alike = Of(new SmallSeason().WithAll("nests.csv", "cover", "grass"));
        Assert.True(alike.Season.HasValue);
        Assert.Equal(("model_report.one_cover", "parity.one_role"), (alike.Courses.Why!.Key, alike.Ratio.Why!.Key));
    }

    [Theory]
    [InlineData("", "nothing: all nests and days alike")]
    [InlineData("cover, fortnight", "cover and fortnight")]
    [InlineData("cover by clumps_per_acre", "cover and clump density of the line, the one depending on the other")]
    [InlineData("fortnight, cover by clump_height_cm", "fortnight and cover and clump height cm, the one depending on the other")]
    public void A_model_is_named_in_plain_words(string choice, string words) => Assert.Equal(words, Catalogue.English.Say(ModelNames.Of(EffectChoice.Read(choice))));

    [Fact]
    public void A_nest_is_named_in_plain_words() =>
        Assert.Equal("cover: cactus; clump density of the line: 118 an acre", Catalogue.English.Say(ModelNames.Of(Pattern.Typical.With("cover", "cactus").With("clumps_per_acre", 118.25))));
}
