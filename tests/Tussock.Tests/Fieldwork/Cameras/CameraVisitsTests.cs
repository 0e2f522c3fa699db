using Tussock.Evidence;
using Tussock.Fieldwork.Cameras;
using Xunit;

namespace Tussock.Tests.Fieldwork.Cameras;

/// <summary>Sightings become visits: by gaps, by names of visits, whole visits before single pictures.</summary>
public static class CameraVisitsTests
{
    private static readonly DateTime Start = new(2024, 5, 10, 21, 0, 0);

    [Theory]
    [InlineData(30, "0-20 60")]
    [InlineData(5, "0 10 20 60")]
    [InlineData(40, "0-60")]
    public static void Pictures_of_one_animal_are_one_visit_until_the_gap(double gapMin, string expected) =>
        Assert.Equal(expected, Shown(gapMin, Picture("a", 0), Picture("b", 10), Picture("c", 20), Picture("d", 60)));

    [Fact]
    public static void Another_animal_or_another_act_is_another_visit() =>
        Assert.Equal("0-20 5 10", Shown(30, Picture("a", 0), Picture("b", 5, "Canis latrans"), Picture("c", 10, tags: "took_eggs:yes"), Picture("d", 20)));

    [Fact]
    public static void Pictures_of_a_named_visit_are_one_however_far_apart_and_blank_ones_and_setting_up_are_none() =>
        Assert.Equal("0-200", Shown(30, Picture("a", 0) with { Visit = "v" }, Picture("b", 200) with { Visit = "v" }, Picture("c", 300) with { Shown = ShownKind.Blank }, Picture("d", 400) with { IsSetUp = true }));

    [Fact]
    public static void Pictures_inside_a_whole_visit_belong_to_it() =>
        Assert.Equal("0-30 31", Shown(0.5, Picture("w", 0) with { IsWholeVisit = true, To = Start.AddMinutes(30), Picture = "" }, Picture("a", 10), Picture("b", 30), Picture("c", 31)));

    [Fact]
    public static void The_order_in_which_they_come_changes_nothing()
    {
        Sighting[] all = [Picture("a", 0), Picture("b", 10), Picture("c", 45), Picture("d", 20, "Canis latrans")];
        Assert.Equal(Shown(30, all), Shown(30, [.. all.Reverse()]));
    }

    [Fact]
    public static void Pictures_in_the_time_of_people_are_not_looked_at()
    {
        CameraPicture[] pictures = [.. new[] { 0, 5, 10, 15 }.Select(m => new CameraPicture("p" + Tussock.Words.Numbers.Whole(m), "cam", Start.AddMinutes(m), "f", "image/jpeg"))];
        var people = new Sighting { Key = "s", Camera = "cam", From = Start.AddMinutes(5), To = Start.AddMinutes(10), Shown = ShownKind.Person };

        Assert.Equal(["p10", "p5"], PicturesOfPeople.Of([people], pictures).Order(StringComparer.Ordinal));
        Assert.Equal(["p15"], PicturesOfPeople.Of([people with { Picture = "p15", From = Start, To = Start.AddHours(1) }], pictures));
        Assert.Empty(PicturesOfPeople.Of([people with { Shown = ShownKind.Animal }], pictures));
    }

    private static Sighting Picture(string key, int minute, string species = "Procyon lotor", string tags = "") => new()
    {
        Key = key, Camera = "cam", Picture = "p" + key, From = Start.AddMinutes(minute), To = Start.AddMinutes(minute), Shown = ShownKind.Animal, Species = species, Tags = CameraTags.Read(tags),
    };

    private static string Shown(double gapMin, params Sighting[] sightings) =>
        string.Join(' ', new CameraVisits(SpeciesMap.Standard, gapMin).Of(sightings, []).Select(v => Minute(v.From) + (v.To > v.From ? "-" + Minute(v.To) : "")));

    private static string Minute(DateTime at) => Tussock.Words.Numbers.Whole((int)(at - Start).TotalMinutes);
}
