using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>The program speaks the language that was asked for; tokens and numbers stay what they are.</summary>
public sealed class LanguageTests
{
    [Theory]
    [InlineData("--language", "es")]
    [InlineData("--language=es-MX", null)]
    public void Sentences_are_said_in_the_language_that_was_asked_for(string option, string? value)
    {
        var said = Typed.Done(["quick", "5/6", "4/6", "3/6", "1/6", option, .. value is null ? (string[])[] : [value]]).Out;
        Assert.Contains("13 de 24 nidos simulados seguían enteros después de 28 días (54 %).", said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_document_has_the_same_keys_tokens_and_numbers_in_every_language()
    {
        var (english, spanish) = (Typed.Results("demo"), Typed.Results("demo", "--language", "es"));
        Assert.Equal(english.GetProperty("verdicts").EnumerateArray().Select(v => v.Text("verdict")), spanish.GetProperty("verdicts").EnumerateArray().Select(v => v.Text("verdict")));
        Assert.Equal(english.Group("season").Number("survival/day28/low"), spanish.Group("season").Number("survival/day28/low"));
        Assert.NotEqual(english.GetProperty("verdicts")[0].Text("because"), spanish.GetProperty("verdicts")[0].Text("because"));
    }

    [Fact]
    public void A_language_without_sentences_is_wrong_usage()
    {
        var run = Typed.Run("quick", "5/6", "--language", "xx");
        Assert.Equal(2, run.Exit);
        Assert.Contains("en, es", run.Err, StringComparison.Ordinal);
    }
}
