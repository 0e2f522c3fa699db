using System.Globalization;
using System.Text;
using Tussock.Planning.Power;
using Tussock.Simulation;
using Tussock.Tests.HouseRules;
using Xunit;

namespace Tussock.Tests.Planning.Power;

/// <summary>The study of wrong calls: some rows anew, the promise it must keep, and the tables of the page, which are made of it.</summary>
public class VerdictErrorsTests
{
    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    private const double Promise = 0.05;
    private static readonly bool IsLong = Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1";
    private static readonly Row[] Study = [.. Checks.Read("verdict-errors", "rates.csv").Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(Row.Of)];

    public static TheoryData<int> Some => [.. Enumerable.Range(0, Study.Length).Where(i => IsLong || i % 43 == 0)];

    [Theory]
    [MemberData(nameof(Some))]
    public void A_row_drawn_anew_agrees(int index)
    {
        var row = Study[index];
        var seasons = IsLong ? row.Seasons : row.IsSurvival ? 80 : 1000;
        var question = new PowerQuestion { Design = new(row.Lines, row.Nests), Truth = row.Truth, HasDensity = !row.IsSurvival, Seed = 77 };
        var rates = row.IsSurvival ? CallRates.Of(question, question.Design, seasons, cancel: Stop) : CallRates.OfDensity(question, question.Design, seasons, cancel: Stop);
        Agrees(row.Wrong, row.IsSurvival ? rates.SurvivalWrong : rates.DensityWrong!.Value);
        Agrees(row.NotCalled, row.IsSurvival ? rates.NotEnough : 1 - rates.DensityLikely!.Value - rates.DensityUnlikely!.Value);
        if (row.Naive is { } naive) Agrees(naive, rates.NaiveWrong!.Value);

        void Agrees(double study, double anew)
        {
            var p = ((study * row.Seasons) + (anew * seasons) + 1) / (row.Seasons + seasons + 2);
            Assert.Equal(study, anew, 5 * Math.Sqrt(p * (1 - p) * ((1.0 / row.Seasons) + (1.0 / seasons))));
        }
    }

    [Fact]
    public void Where_it_is_promised_at_most_one_call_in_twenty_is_wrong()
    {
        var promised = Study.Where(r => r.IsSurvival ? r.Truth.LineSd <= 1 : r.Truth.DensityCv <= 0.6).ToArray();
        Assert.True(promised.Length > 200);
        Checkout.None(promised.Where(r => r.Wrong > Promise).Select(r => r.ToString()));
    }

    [Fact]
    public void The_tables_of_the_page_are_those_of_the_study()
    {
        const string Begin = "### Tables of the study\n", End = "**Source.**";
        var page = Checkout.Read("docs/methods/power.md").ReplaceLineEndings("\n");
        var (from, to) = (page.IndexOf(Begin, StringComparison.Ordinal) + Begin.Length, page.IndexOf(End, StringComparison.Ordinal));
        var tables = Tables();
        if (Environment.GetEnvironmentVariable("TUSSOCK_WRITE_DOCS") == "1") File.WriteAllText(Path.Combine(Checkout.Root, "docs", "methods", "power.md"), page = page[..from] + tables + page[to..]);
        to = page.IndexOf(End, StringComparison.Ordinal);
        Assert.Equal(tables, page[from..to]);
    }

    private static string Tables()
    {
        var text = new StringBuilder();
        var spreads = new[] { 0, 0.5, 1, 1.5 };
        foreach (var nests in new[] { 8, 12, 16 })
        {
            text.Append(CultureInfo.InvariantCulture, $"\n**{nests} nests a transect, all found, even hazard**\n\n| transects | truth |");
            foreach (var sd in spreads) text.Append(CultureInfo.InvariantCulture, $" sd {sd} |");
            text.Append("\n|--:|--:|" + string.Concat(spreads.Select(_ => "--:|")) + "\n");
            foreach (var group in Plain().Where(r => r.Nests == nests && (r.Truth.Survival is 0.4 or 0.6)).GroupBy(r => (r.Lines, r.Truth.Survival)))
                text.Append(CultureInfo.InvariantCulture, $"| {group.Key.Lines} | {100 * group.Key.Survival:F0} % |").Append(string.Concat(group.OrderBy(r => r.Truth.LineSd).Select(r => " " + Cell(r) + " |"))).Append('\n');
        }

        text.Append("\n**12 nests a transect, other truths**\n\n| transects | truth | sd 0.5 | sd 1 |\n|--:|--:|--:|--:|\n");
        foreach (var group in Plain().Where(r => r.Truth.Survival is 0.3 or 0.5 or 0.7).GroupBy(r => (r.Lines, r.Truth.Survival)))
            text.Append(CultureInfo.InvariantCulture, $"| {group.Key.Lines} | {100 * group.Key.Survival:F0} % |").Append(string.Concat(group.OrderBy(r => r.Truth.LineSd).Select(r => " " + Cell(r) + " |"))).Append('\n');
        text.Append("\n**12 nests a transect, nests not found and uneven hazard**\n\n| of lost nests never found | of others not found | hazard before day 14 | transects | 40 %, sd 0.5 | 60 %, sd 0.5 | 40 %, sd 1 | 60 %, sd 1 |\n|--:|--:|--:|--:|--:|--:|--:|--:|\n");
        foreach (var group in Study.Where(r => r.IsSurvival && !r.IsPlain).GroupBy(r => (r.Truth.LostNotRelocated, r.Truth.NotRelocated, r.Truth.EarlyShare, r.Lines)))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {Percent(group.Key.LostNotRelocated)} | {Percent(group.Key.NotRelocated)} | {Percent(group.Key.EarlyShare)} | {group.Key.Lines} |")
                .Append(string.Concat(group.OrderBy(r => r.Truth.LineSd).ThenBy(r => r.Truth.Survival).Select(r => " " + Cell(r) + " |"))).Append('\n');
        }

        text.Append("\n**Density, benchmark 300 an acre, belts along 12 nests**\n\n| transects | truth | cv 0.3 | cv 0.6 | cv 0.9 |\n|--:|--:|--:|--:|--:|\n");
        foreach (var group in Study.Where(r => !r.IsSurvival).GroupBy(r => (r.Lines, r.Truth.PerAcre)))
            text.Append(CultureInfo.InvariantCulture, $"| {group.Key.Lines} | {group.Key.PerAcre} |").Append(string.Concat(group.OrderBy(r => r.Truth.DensityCv).Select(r => " " + Cell(r) + " |"))).Append('\n');
        return text.Append('\n').ToString();
    }

    private static IEnumerable<Row> Plain() => Study.Where(r => r.IsSurvival && r.IsPlain);

    private static string Percent(double share) => (100 * share).ToString("F0", CultureInfo.InvariantCulture) + " %";

    /// <summary>Wrong / not called / naive; bold where more than one call in twenty is wrong.</summary>
    private static string Cell(Row row)
    {
        var wrong = (100 * row.Wrong).ToString("F1", CultureInfo.InvariantCulture);
        var rest = " / " + (100 * row.NotCalled).ToString("F0", CultureInfo.InvariantCulture) + (row.Naive is { } n ? " / " + (100 * n).ToString("F0", CultureInfo.InvariantCulture) : "");
        return (row.Wrong > Promise ? "**" + wrong + "**" : wrong) + rest;
    }

    private sealed record Row(bool IsSurvival, int Lines, int Nests, SeasonTruth Truth, int Seasons, double Wrong, double NotCalled, double? Naive)
    {
        public bool IsPlain => Truth is { EarlyShare: 0.5, NotRelocated: 0, LostNotRelocated: 0 };

        public static Row Of(string line)
        {
            var c = line.Split(',');
            double N(int i) => double.Parse(c[i], CultureInfo.InvariantCulture);
            var truth = new SeasonTruth { Survival = N(3), LineSd = N(4), EarlyShare = N(5), NotRelocated = N(6), LostNotRelocated = N(7), LateDays = (int)N(8), PerAcre = N(9), DensityCv = N(10) };
            return new Row(c[0] == "survival", (int)N(1), (int)N(2), truth, (int)N(11), N(12), N(13), c[14].Length == 0 ? null : N(14));
        }
    }
}
