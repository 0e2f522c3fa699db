using System.IO.Compression;
using Tussock.Field;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>The app comes over a thin line at the edge of a network: its size is bounded.</summary>
public sealed class FieldAppSize
{
    private const int MostPacked = 150_000;

    [Fact]
    public void All_files_of_the_app_packed_stay_under_150_kB()
    {
        var packed = FieldFiles.All.Sum(f =>
        {
            var room = new byte[BrotliEncoder.GetMaxCompressedLength(f.Bytes.Length)];
            Assert.True(BrotliEncoder.TryCompress(f.Bytes.Span, room, out var length, quality: 9, window: 22));
            return Math.Min(length, f.Bytes.Length);
        });
        TestContext.Current.TestOutputHelper?.WriteLine($"{packed} bytes in {FieldFiles.All.Length} files");
        Assert.InRange(packed, 1, MostPacked);
    }

    [Fact]
    public void No_page_carries_script_or_style_of_its_own() =>
        Assert.All(FieldFiles.All.Where(f => f.Path.EndsWith(".html", StringComparison.Ordinal)), f =>
        {
            var text = System.Text.Encoding.UTF8.GetString(f.Bytes.Span);
            Assert.DoesNotContain("style=", text, StringComparison.Ordinal);
            Assert.DoesNotContain("<style", text, StringComparison.Ordinal);
            Assert.DoesNotContain("<script>", text, StringComparison.Ordinal);
        });

    /// <summary>What is named only by another file comes a round trip later: the first page names all it needs, and that is little.</summary>
    [Fact]
    public void The_first_page_needs_four_files_and_the_joined_one_holds_every_module_once()
    {
        string Text(string path) => System.Text.Encoding.UTF8.GetString(FieldFiles.All.Single(f => f.Path == path).Bytes.Span);
        var (page, joined) = (Text("index.html"), Text("joined.js"));
        Assert.Equal(1, page.Split("<script").Length - 1);
        Assert.Equal(2, page.Split("rel=\"stylesheet\"").Length - 1);
        string[] apart = ["service-worker.js", "log/types.js", "joined.js"];
        Assert.All(FieldFiles.All.Select(f => f.Path).Where(p => p.EndsWith(".js", StringComparison.Ordinal)).Except(apart), p => Assert.Equal(1, joined.Split($"$['{p}'] = ").Length - 1));
        Assert.DoesNotContain("\nimport ", joined, StringComparison.Ordinal);
        Assert.DoesNotContain("\nexport ", joined, StringComparison.Ordinal);
    }
}
