using Tussock.Fates;
using Xunit;

namespace Tussock.Tests;

public class ReferenceSeasonTests
{
    [Theory]
    [InlineData("all_survive48")]
    [InlineData("separation120")]
    [InlineData("sparse10k")]
    [InlineData("strong600")]
    [InlineData("tiny20")]
    [InlineData("typical144")]
    public void The_small_reader_finds_the_fates_of_the_reference(string set)
    {
        if (!File.Exists(Path.Combine(Checks.Folder("reference-seasons"), set, "extra.json")))
        {
            var counts = ReferenceSeason.Block(set, "expected.json", "apparent_survival").GetProperty("all");
            Assert.Equal(counts.GetProperty("survived").GetInt32(), ReferenceSeason.Whole(set).Day28.Count(f => f == FateAt.Survived));
            return;
        }

        var fates = ReferenceSeason.Block(set, "extra.json", "fates");
        foreach (var (path, spans) in ReferenceSeason.Groups(set))
        {
            foreach (var (name, column) in new[] { ("day14", spans.Day14), ("day28", spans.Day28) })
            {
                var expected = fates.At(path).GetProperty(name);
                Assert.Equal(expected.GetProperty("nests").GetInt32(), spans.Count);
                Assert.Equal(expected.GetProperty("intact").GetInt32(), column.Count(f => f == FateAt.Survived));
                Assert.Equal(expected.GetProperty("lost").GetInt32(), column.Count(f => f == FateAt.Lost));
            }
        }
    }
}
