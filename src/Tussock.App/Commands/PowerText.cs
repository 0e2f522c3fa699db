using System.Collections.Immutable;
using Spectre.Console;
using Tussock.Planning.Power;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>The answer about a design as a page of text.</summary>
internal sealed class PowerText
{
    private readonly PowerAnswer answer;
    private readonly Catalogue words;
    private readonly TextWriter output;
    private readonly TextPage page;

    private PowerText(PowerAnswer answer, Catalogue words, TextWriter output)
    {
        (this.answer, this.words, this.output) = (answer, words, output);
        page = new TextPage(words, output);
    }

    internal static void Write(PowerAnswer answer, ImmutableArray<EarlierSeason> earlier, Catalogue words, TextWriter output) => new PowerText(answer, words, output).Whole(earlier);

    private void Whole(ImmutableArray<EarlierSeason> earlier)
    {
        foreach (var season in earlier) Line(season.PerAcre is { } density
            ? Phrase.Of("power.earlier_with_density", ("season", season.Name), ("lines", season.Lines), ("survival", season.Survival), ("sd", season.LineSd), ("unknown", season.Unknown), ("density", density), ("cv", season.DensityCv ?? 0))
            : Phrase.Of("power.earlier", ("season", season.Name), ("lines", season.Lines), ("survival", season.Survival), ("sd", season.LineSd), ("unknown", season.Unknown)));
        foreach (var sentence in PowerSentences.Head(answer)) Line(sentence);
        Rates();
        foreach (var sentence in PowerSentences.Rest(answer)) Line(sentence);
        Designs();
        if (answer.Curves is { } curves)
        {
            output.WriteLine();
            Line(Phrase.Of("power.curve_head", ("seasons", curves.Seasons)));
            Curve("power.picture_survival", curves.Survival, t => Numbers.Percent(t));
            if (!curves.Density.IsEmpty) Curve("power.picture_density", curves.Density, t => Numbers.Fixed(t, 0));
        }
    }

    private void Line(Phrase phrase) => output.WriteLine(words.Say(phrase));

    private void Rates()
    {
        var table = page.Table("power.column.what", "power.column.simulated", "power.column.formula");
        foreach (var row in PowerRows.Of(answer)) table.AddRow(Markup.Escape(words.Say(row.What)), row.IsWidth ? Points(row.Simulated) : Percent(row.Simulated), row.IsWidth ? Points(row.Formula) : Percent(row.Formula));
        page.Write(table);
    }

    private void Designs()
    {
        if (answer.Designs.IsEmpty) return;
        output.WriteLine();
        Line(Phrase.Of("power.designs_head"));
        var table = page.Table("power.column.design", "power.column.all_nests", "power.column.width", "power.column.clear", "power.column.clear_formula", "power.column.wrong");
        foreach (var (rates, formula) in answer.Designs)
        {
            table.AddRow(rates.Design.Lines + " × " + rates.Design.Nests, Numbers.Whole(rates.Design.Lines * rates.Design.Nests), Points(rates.MeanWidth), Percent(rates.Clear), Percent(formula.Clear(answer.Question.HasDensity)), Percent(rates.SurvivalWrong));
        }

        page.Write(table);
        if (PowerSentences.BestDesign(answer) is { } best) Line(best);
    }

    private void Curve(string name, ImmutableArray<CallsAtTruth> points, Func<double, string> truth)
    {
        var table = page.Table(name, "power.picture_unlikely", "power.picture_none", "power.picture_likely");
        foreach (var p in points) table.AddRow(truth(p.Truth), Percent(p.Unlikely), Percent(p.NotCalled), Percent(p.Likely));
        page.Write(table);
    }

    private string Points(double? width) => width is { } w ? words.Say(Phrase.Of("power.points", ("width", 100 * w))) : "–";

    private static string Percent(double? share) => share is { } s ? Numbers.Percent(s, s is > 0 and < 0.1 ? 1 : 0) : "–";
}
