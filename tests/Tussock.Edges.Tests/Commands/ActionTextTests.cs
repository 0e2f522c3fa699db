using System.Globalization;
using Tussock.Actions;
using Tussock.App.Commands;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>What a contrast says on the screen, in the order in which it must be read.</summary>
public class ActionTextTests
{
    [Theory]
    [InlineData("en", "! Only one pasture had the action", "Did it work? Before and after: burn", "Effect on survival: +12 points of 100", "Cautions")]
    [InlineData("es", "! Solo un potrero tuvo la acción", "¿Funcionó? Antes y después: quema", "Efecto en la supervivencia: +12 puntos de 100", "Advertencias")]
    public void What_it_cannot_say_stands_before_the_number(string language, string first, string title, string effect, string cautions)
    {
        var text = Text(Made(), Catalogue.Of(language)!);
        Assert.StartsWith(title, text, StringComparison.Ordinal);
        int[] order = [text.IndexOf(first, StringComparison.Ordinal), text.IndexOf(effect, StringComparison.Ordinal), text.IndexOf(cautions, StringComparison.Ordinal)];
        Assert.DoesNotContain(-1, order);
        Assert.Equal(order.Order(), order);
        Assert.DoesNotContain("..", text, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_number_that_can_not_be_had_is_its_reason()
    {
        var why = Phrase.Of("action.not_told_apart");
        var text = Text(Made() with { Effect = Estimate.None("made", why), HazardRatio = Estimate.None("made", why), ChanceRaised = new NoAnswer(why) }, Catalogue.English);
        Assert.Contains("No effect on survival can be given: The nests can't tell the action from years and pastures.", text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("Chance that", text, StringComparison.Ordinal);
    }

    private static BeforeAfterControl Made() => new()
    {
        Kind = "burn", Treated = [new("Two Windmills", "North", false, "2024")], Untreated = [new("Two Windmills", "South", false, null)], Years = ["2023", "2024"],
        Effect = new Estimate { Value = 0.12, Low = -0.05, High = 0.29, Method = "made" }, HazardRatio = new Estimate { Value = 0.7, Low = 0.4, High = 1.2, Method = "made" }, ChanceRaised = 0.91,
        Placebo = new(1, false, 0, 0.5, 0.7, true, [], [("2023", new Estimate { Value = 1.1, Low = 0.8, High = 1.4, Method = "made" })]), Changes = Estimate.None("made", Phrase.Of("action.few_lands", ("treated", 1), ("untreated", 1))),
        ByYear = [], First = [Phrase.Of("action.one_treated")], MustHold = [Phrase.Of("action.must_alike")], Cautions = [Phrase.Of("action.care_burn")],
    };

    private static string Text(BeforeAfterControl contrast, Catalogue words)
    {
        using var output = new StringWriter(CultureInfo.InvariantCulture) { NewLine = "\n" };
        ActionText.Write(contrast, words, output);
        return output.ToString();
    }
}
