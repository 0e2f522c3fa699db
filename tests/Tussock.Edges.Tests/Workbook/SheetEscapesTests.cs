using Tussock.Exchange.Spreadsheet;
using Xunit;

namespace Tussock.Edges.Tests.Workbook;

/// <summary>Texts that look like escapes, or stand right before one, are still themselves.</summary>
public sealed class SheetEscapesTests
{
    [Theory]
    [InlineData("_xa1e5\u0001Z")]
    [InlineData("_xA1E5\ud83d")]
    [InlineData("_x005F_x0041_")]
    [InlineData("_x005F_\u0001")]
    [InlineData("_x_x0041_x0041")]
    [InlineData("_x0041")]
    public void Whatever_a_text_looks_like_it_comes_back(string text) => Assert.Equal(text, SheetEscapes.Read(SheetEscapes.Written(text)));

    /// <summary>The example of ECMA-376 part 1, 22.9.2.19, from memory: a text _x0008_ is written with its first underscore escaped.</summary>
    [Fact]
    public void The_example_of_the_standard() => Assert.Equal(("_x005F_x0008_", "_x0008_", "\b"), (SheetEscapes.Written("_x0008_"), SheetEscapes.Read("_x005F_x0008_"), SheetEscapes.Read("_x0008_")));
}
