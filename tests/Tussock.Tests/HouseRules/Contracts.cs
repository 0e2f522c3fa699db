using System.Text.RegularExpressions;
using Tussock.Records;
using Xunit;

namespace Tussock.Tests.HouseRules;

/// <summary>What others build on stands in a page: the columns of the season folder, the keys of the JSON.</summary>
public partial class Contracts
{
    [Fact]
    public void Every_column_and_its_tokens_stand_under_their_file()
    {
        var page = Checkout.Read("docs/season-folder.md");
        foreach (var kind in RecordKind.All)
        {
            var start = page.IndexOf("### " + kind.File, StringComparison.Ordinal);
            Assert.True(start >= 0, kind.File);
            var end = page.IndexOf("\n##", start + 3, StringComparison.Ordinal);
            var rows = Row().Matches(page[start..end]).Select(m => m.Groups["it"].Value).ToArray();
            Assert.Equal(kind.Columns.Select(c => c.Name), rows);
            Assert.All(kind.Columns.SelectMany(c => c.Tokens), t => Assert.Contains("`" + t + "`", page[start..end], StringComparison.Ordinal));
            Assert.Equal(kind.IsRequired, page[start..].StartsWith("### " + kind.File + " (required)", StringComparison.Ordinal));
        }
    }

    [Fact]
    public void Every_setting_of_a_season_stands_in_the_page_of_the_folder()
    {
        var page = Checkout.Read("docs/season-folder.md");
        var settings = Setting().Matches(Checkout.Read("src/Tussock/Records/SettingsReading.cs")).Select(m => m.Groups["it"].Value).ToArray();
        Assert.NotEmpty(settings);
        Assert.All(settings, s => Assert.Contains("`" + s + "`", page, StringComparison.Ordinal));
    }

    [Fact]
    public void Every_key_of_the_results_stands_in_their_page()
    {
        var page = Checkout.Read("docs/results.md");
        var keys = new[] { "ResultsDocument", "CulpritsText" }.SelectMany(f => Key().Matches(Checkout.Read($"src/Tussock/Results/{f}.cs")).Select(m => m.Groups["it"].Value)).Distinct().ToArray();
        Assert.True(keys.Length > 50);
        Checkout.None(keys.Where(k => !k.EndsWith("_why", StringComparison.Ordinal) && !Regex.IsMatch(page, "\\b" + k + "\\b")));
    }

    [GeneratedRegex(@"^\| `(?<it>\w+)` \|", RegexOptions.Multiline)]
    private static partial Regex Row();

    [GeneratedRegex("Read\\(package, problems, \"(?<it>\\w+)\"")]
    private static partial Regex Setting();

    [GeneratedRegex("(?:Write\\w+|Estimate|Answer|Text|Array|Number)\\(\"(?<it>\\w+)\"")]
    private static partial Regex Key();
}
