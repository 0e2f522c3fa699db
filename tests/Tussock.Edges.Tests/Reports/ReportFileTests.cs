using System.Text.RegularExpressions;
using Tussock.Reports;
using Xunit;

namespace Tussock.Edges.Tests.Reports;

public partial class ReportFileTests
{
    public static TheoryData<string> Pages { get; } = [.. All().Select(p => p.Name)];

    [Theory]
    [MemberData(nameof(Pages))]
    public void A_file_stands_alone(string name)
    {
        var html = All().Single(p => p.Name == name).Html;
        Assert.DoesNotMatch(Outside(), html);
        Assert.DoesNotContain("<script", html, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("default-src 'none'", html, StringComparison.Ordinal);
        Assert.Contains("data:font/woff2;base64,", html, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", PageText.Of(html), StringComparison.Ordinal);
        Assert.DoesNotContain("∞", PageText.Of(html), StringComparison.Ordinal);
    }

    [Fact]
    public void A_pasture_named_like_markup_stays_text()
    {
        foreach (var page in ReportSeasons.Landowner(ReportSeasons.Renamed1).Add(ReportSeasons.Technical(ReportSeasons.Renamed1)))
        {
            Assert.DoesNotContain("<script", page.Html, StringComparison.OrdinalIgnoreCase);
        }

        Assert.Contains("&lt;script&gt;alert(1)&lt;/script&gt;", ReportSeasons.Technical(ReportSeasons.Renamed1).Html, StringComparison.Ordinal);
    }

    [Fact]
    public void Same_input_same_bytes()
    {
        Assert.Equal(ReportSeasons.Landowner(ReportSeasons.Demo).Select(p => p.Html), ReportSeasons.Landowner(ReportSeasons.Demo).Select(p => p.Html));
        Assert.Equal(ReportSeasons.Technical(ReportSeasons.Demo).Html, ReportSeasons.Technical(ReportSeasons.Demo).Html);
    }

    [Fact]
    public void The_technical_report_has_a_contents_list_whose_links_all_lead_somewhere()
    {
        var html = ReportSeasons.Technical(ReportSeasons.Demo).Html;
        var targets = Target().Matches(html).Select(m => m.Groups[1].Value).ToArray();
        Assert.Equal(23, targets.Length);
        Assert.All(targets, t => Assert.Contains("id=\"" + t + "\"", html, StringComparison.Ordinal));
    }

    [Fact]
    public void A_file_is_whole_or_not_there()
    {
        var folder = Directory.CreateTempSubdirectory("report-").FullName;
        try
        {
            var path = ReportFiles.Write(folder, "a.html", "whole"u8);
            Assert.Equal("whole", File.ReadAllText(path));
            Directory.CreateDirectory(Path.Combine(folder, "b.html", "in the way"));
            Assert.ThrowsAny<IOException>(() => ReportFiles.Write(folder, "b.html", "half"u8));
            Assert.DoesNotContain(Directory.GetFiles(folder), f => f.EndsWith(".part", StringComparison.Ordinal));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static System.Collections.Immutable.ImmutableArray<ReportPage> All() => ReportSeasons.Landowner(ReportSeasons.Demo).Add(ReportSeasons.Technical(ReportSeasons.Demo));

    [GeneratedRegex("(src|href)\\s*=\\s*[\"']?(https?:)?//|url\\(\\s*[\"']?(https?:)?//|@import", RegexOptions.IgnoreCase | RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex Outside();

    [GeneratedRegex("href=\"#(?<id>[a-z_0-9]+)\"", RegexOptions.None, 10_000)]
    private static partial Regex Target();
}
