using System.Text.RegularExpressions;
using Tussock.Reports;
using Tussock.Reports.Landowner;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Reports;

public partial class LandownerPageTests
{
    [Fact]
    public void Every_property_has_a_page_for_its_owner_and_one_to_share() =>
        Assert.Equal(["landowner-thirteen-gates", "landowner-thirteen-gates-to-share", "landowner-two-windmills", "landowner-two-windmills-to-share"], ReportSeasons.Landowner(ReportSeasons.Demo).Select(p => p.Name));

    [Fact]
    public void The_first_forty_words_hold_verdict_pasture_and_doubt()
    {
        var first = FirstWords(Page("landowner-two-windmills"), 40);
        Assert.Contains("Two Windmills", first, StringComparison.Ordinal);
        Assert.Contains("not settled", first, StringComparison.Ordinal);
        Assert.Contains("The chance that 50 % of nests or more last is about", first, StringComparison.Ordinal);
    }

    [Fact]
    public void With_five_pastures_each_line_of_the_head_holds_verdict_pasture_and_doubt()
    {
        var first = FirstWords(Page("landowner-thirteen-gates"), 50);
        foreach (var line in (string[])["Caliche Hill: few losses, thin cover over 99 % sure", "East Pasture: cover enough, many losses over 99 % sure", "Mill Pasture: not settled survival leans neither way", "North Draw: cover enough, few losses over 99 % sure", "Old Field: thin cover, many losses about 98 % sure"])
        {
            Assert.Contains(line, first, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Counts_come_first() => Assert.Contains("24 simulated nests; 13 still whole after four weeks.", PageText.WithoutPictures(Page("landowner-two-windmills").Html), StringComparison.Ordinal);

    [Fact]
    public void Where_trampling_leads_it_and_the_cattle_stand_right_after_the_count()
    {
        var page = PageText.WithoutPictures(Trampled().Html);
        var count = page.IndexOf("26 still whole after four weeks.", StringComparison.Ordinal);
        Assert.StartsWith("32 of 52 lost nests were trampled. 30 head came in on day 16 (31 May 2026).", string.Join(' ', PageText.Words(page[(count + 32)..])), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("predator")]
    [InlineData("killing")]
    [InlineData("trapping")]
    [InlineData("coyote")]
    public void Where_trampling_leads_there_is_no_word_of_predator_control(string word)
    {
        foreach (var page in (ReportPage[])[Trampled(), Page("landowner-thirteen-gates")])
        {
            if (word == "coyote" && page.Name.Contains("thirteen", StringComparison.Ordinal) && ReportSeasons.Demo.Verdicts.Count(v => v.Row.Property == "Thirteen Gates") > 1) continue;
            Assert.DoesNotContain(word, PageText.Of(page.Html), StringComparison.OrdinalIgnoreCase);
        }
    }

    [Fact]
    public void Fewer_than_five_losses_seen_by_cameras_make_no_chart_and_name_nobody()
    {
        var page = Page("landowner-two-windmills").Html;
        Assert.Contains("Cameras saw 2 losses.", PageText.Of(page), StringComparison.Ordinal);
        Assert.DoesNotContain("Who took", page, StringComparison.Ordinal);
        Assert.DoesNotContain("raccoon", page, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_to_share_has_no_places()
    {
        foreach (var page in ReportSeasons.Landowner(ReportSeasons.Demo).Where(p => p.Name.EndsWith("-to-share", StringComparison.Ordinal)))
        {
            Assert.DoesNotMatch(Coordinate(), PageText.Of(page.Html));
            Assert.DoesNotContain(Catalogue.English.Say("pictures.map_title"), page.Html, StringComparison.Ordinal);
            Assert.DoesNotContain("km", PageText.Of(page.Html), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_owners_page_has_a_map() => Assert.Contains(Catalogue.English.Say("pictures.map_title"), Page("landowner-two-windmills").Html, StringComparison.Ordinal);

    [Fact]
    public void The_halfway_note_counts_and_gives_no_verdict()
    {
        var notes = HalfwayNotes.Of(ReportSeasons.Demo.Results, ReportSeasons.Making, Catalogue.English);
        Assert.Equal(["halfway-thirteen-gates", "halfway-thirteen-gates-to-share", "halfway-two-windmills", "halfway-two-windmills-to-share"], notes.Select(n => n.Name));
        var text = PageText.Of(notes[2].Html);
        Assert.Contains("still whole after two weeks. No verdict yet", text, StringComparison.Ordinal);
        foreach (var verdict in (string[])["good", "cover_limited", "losses_despite_cover", "survival_good_cover_thin", "not_enough_data"]) Assert.DoesNotContain(Catalogue.English.Say("verdict.words." + verdict), text, StringComparison.Ordinal);
    }

    private static ReportPage Page(string name) => ReportSeasons.Landowner(ReportSeasons.Demo).Single(p => p.Name == name);

    private static ReportPage Trampled() => ReportSeasons.Landowner(ReportSeasons.Trampled)[0];

    private static string FirstWords(ReportPage page, int count) => string.Join(' ', PageText.Words(PageText.Of(page.Html)).Take(count)).Replace(" : ", ": ", StringComparison.Ordinal);

    [GeneratedRegex(@"\d{2,3}\.\d{3,}", RegexOptions.None, 10_000)]
    private static partial Regex Coordinate();
}
