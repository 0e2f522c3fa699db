using System.Text.Json;
using System.Text.RegularExpressions;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.HouseRules;

/// <summary>Every language says everything that English says, with the same arguments.</summary>
public sealed partial class Languages
{
    public static TheoryData<string, string> Files => [.. Tussock.Words.Catalogue.Languages.Where(l => l != "en").SelectMany(l => Checkout.Files.Where(f => f.StartsWith("src/Tussock/Words/Catalogues/en/", StringComparison.Ordinal)).Select(f => (l, Path.GetFileName(f))))];

    [Fact]
    public void Spanish_stands_beside_English() => Assert.Equal(["en", "es"], Tussock.Words.Catalogue.Languages);

    [Theory]
    [MemberData(nameof(Files))]
    public void Each_sentence_is_there_with_the_same_arguments(string language, string file)
    {
        var (english, other) = (Sentences("en", file), Sentences(language, file));

        Assert.Equal(english.Keys.Order(StringComparer.Ordinal), other.Keys.Order(StringComparer.Ordinal));
        Assert.All(english, sentence => Assert.Equal((sentence.Key, string.Join(' ', Slots(sentence.Value))), (sentence.Key, string.Join(' ', Slots(other[sentence.Key])))));
        Assert.All(other, sentence => Assert.DoesNotContain(Choices().Matches(sentence.Value), m => m.Value.Split('|').Length != 3));
    }

    [Fact]
    public void Hardly_a_sentence_is_the_same_in_both()
    {
        var english = Catalogue.English.Keys.Where(k => Catalogue.English.Template(k).Split(' ').Length > 3).ToArray();
        var same = english.Where(k => Catalogue.Of("es")!.Template(k) == Catalogue.English.Template(k)).ToArray();
        Assert.True(same.Length * 50 < english.Length, string.Join(' ', same));
    }

    [Theory]
    [InlineData("en", "3 June 2024")]
    [InlineData("es", "3 de junio de 2024")]
    [InlineData("es-MX", "3 de junio de 2024")]
    public void A_date_is_said_as_the_language_says_it(string language, string said) => Assert.Equal(said, Numbers.Date(new DateOnly(2024, 6, 3), Catalogue.Of(language)!));

    [Fact]
    public void A_language_without_sentences_is_none() => Assert.Null(Catalogue.Of("xx"));

    private static Dictionary<string, string> Sentences(string language, string file) => JsonSerializer.Deserialize<Dictionary<string, string>>(Checkout.Read($"src/Tussock/Words/Catalogues/{language}/{file}"))!;

    /// <summary>Names of arguments with their formats; of a choice by number the name alone.</summary>
    private static IEnumerable<string> Slots(string sentence) => Slot().Matches(sentence).Select(m => m.Groups["it"].Value).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal);

    [GeneratedRegex(@"\{(?<it>[^}|]*\|?)[^}]*\}")]
    private static partial Regex Slot();

    [GeneratedRegex(@"\{[a-z_0-9]+\|[^}]*\}")]
    private static partial Regex Choices();
}
