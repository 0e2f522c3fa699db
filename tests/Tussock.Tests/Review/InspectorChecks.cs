using Tussock.Review;
using Xunit;

namespace Tussock.Tests.Review;

/// <summary>The hand-made season of every conflict, line by line; the other reference seasons are clean.</summary>
public static class InspectorChecks
{
    private static string Folder(string set) => Path.Combine(Checks.Folder("reference-seasons"), set, "season");

    [Fact]
    public static void Every_line_that_has_to_be_flagged_is_flagged_and_no_other_is_a_contradiction()
    {
        var expected = Checks.Read("reference-seasons", Path.Combine("conflicts12", "expected_fates.csv")).Split('\n').Skip(1).Where(l => l.Length > 0)
            .SelectMany(l => l.Split(',')[11].Split(';', StringSplitOptions.RemoveEmptyEntries)).ToHashSet(StringComparer.Ordinal);
        var found = Inspector.Findings(FolderInTests.Season(Folder("conflicts12")));
        static string At(Problem p) => p.Place.File.Replace(".csv", "", StringComparison.Ordinal) + ":" + p.Place.Line;
        Assert.Equal(8, expected.Count);
        Assert.Empty(expected.Except(found.Select(At), StringComparer.Ordinal));
        Assert.Empty(found.Where(p => p.Severity == Severity.Contradiction).Select(At).Except(expected, StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("all_survive48")]
    [InlineData("strong600")]
    [InlineData("typical144")]
    [InlineData("tiny20")]
    public static void Simulated_seasons_have_no_contradictions(string set) =>
        Assert.DoesNotContain(Inspector.Findings(FolderInTests.Season(Folder(set))), p => p.Severity == Severity.Contradiction);
}
