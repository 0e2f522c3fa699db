using System.Text.Json;
using Tussock.Evidence;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Evidence;

/// <summary>Names of animals become culprit classes; one that nobody listed is told.</summary>
public static class SpeciesMapTests
{
    [Theory]
    [InlineData("Procyon lotor", "raccoon")]
    [InlineData(" procyon  LOTOR ", "raccoon")]
    [InlineData("Spilogale interrupta", "skunk")]
    [InlineData("Canis latrans", "coyote")]
    [InlineData("Canis lupus", "other")]
    [InlineData("Canis lupus familiaris", "dog")]
    [InlineData("striped skunk", "skunk")]
    [InlineData("Eastern fox squirrel", "rodent")]
    [InlineData("Texas rat snake", "snake")]
    [InlineData("", "unknown")]
    public static void A_name_is_known_by_itself_by_its_genus_or_by_its_last_word(string name, string culprit)
    {
        var found = SpeciesMap.Standard.Of(name);
        Assert.Equal((culprit, culprit != "other"), (found.Culprit, found.IsListed));
    }

    [Fact]
    public static void Where_the_name_is_not_listed_its_groups_and_other_names_are_asked()
    {
        Assert.Equal("bird", SpeciesMap.Standard.Of("Gymnorhinus cyanocephalus", "pinyon jay", "Corvidae").Culprit);
        Assert.Equal("snake", SpeciesMap.Standard.Of("Salvadora hexalepis", "Salvadora", "Colubridae").Culprit);
        Assert.False(SpeciesMap.Standard.Of("Bassariscus astutus", "ringtail", "Procyonidae").IsListed);
    }

    [Fact]
    public static void A_list_of_ones_own_goes_first_and_leaves_the_rest()
    {
        var own = SpeciesMap.Standard.With([KeyValuePair.Create("Bassariscus Astutus", "raccoon"), KeyValuePair.Create("procyon lotor", "other")]);

        Assert.Equal(("raccoon", "other", "coyote"), (own.Of("Bassariscus astutus").Culprit, own.Of("Procyon lotor").Culprit, own.Of("Canis latrans").Culprit));
    }

    [Fact]
    public static void Every_class_of_the_list_is_a_class_and_what_is_handed_on_comes_back()
    {
        using var list = JsonDocument.Parse(Embedded.Text("evidence/species.json"));
        foreach (var part in new[] { "scientific", "vernacular" }) Assert.All(list.RootElement.GetProperty(part).EnumerateObject(), n => Assert.Contains(n.Value.GetString()!, SpeciesMap.Classes));
        Assert.All(list.RootElement.GetProperty("written_as").EnumerateObject(), n => Assert.Equal(n.Name, SpeciesMap.Standard.Of(n.Value.GetString()!).Culprit));
    }

    [Theory]
    [InlineData("", "egg predation", "", true, null)]
    [InlineData("", "Investigating", "looked_in", null, null)]
    [InlineData("took_eggs:no", "egg predation", "", false, null)]
    [InlineData("role:passed", "egg predation", "passed", null, null)]
    [InlineData("role:took_later|eggs_taken:2", "", "took_later", true, 2)]
    [InlineData("role:danced", "dancing", "", null, null)]
    [InlineData("eggs_taken:-1", "", "", null, null)]
    public static void Only_stated_words_say_that_eggs_were_taken(string tags, string behaviour, string role, bool? took, int? eggs)
    {
        var act = AnimalAct.Of(Tussock.Fieldwork.Cameras.CameraTags.Read(tags), behaviour.Split('|'));
        Assert.Equal((role, took, eggs), (act.Role, act.TookEggs, act.EggsTaken));
    }
}
