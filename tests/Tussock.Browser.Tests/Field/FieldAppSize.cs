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

    /// <summary>A module that is named only by another module comes a round trip later.</summary>
    [Fact]
    public void Every_module_is_asked_for_by_the_first_page()
    {
        var page = System.Text.Encoding.UTF8.GetString(FieldFiles.All.Single(f => f.Path == "index.html").Bytes.Span);
        string[] apart = ["service-worker.js", "log/types.js", "app.js"];
        Assert.All(FieldFiles.All.Select(f => f.Path).Where(p => p.EndsWith(".js", StringComparison.Ordinal)).Except(apart), p => Assert.Contains($"<link rel=\"modulepreload\" href=\"{p}\">", page, StringComparison.Ordinal));
    }
}
