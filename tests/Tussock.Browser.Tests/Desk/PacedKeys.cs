using System.Globalization;
using Microsoft.Playwright;
using Xunit;

namespace Tussock.Browser.Tests.Desk;

/// <summary>The keys of somebody who reads from paper, counted.</summary>
internal sealed class PacedKeys(IPage page)
{
    /// <summary>Milliseconds a key of somebody who reads from paper: four keys a second.</summary>
    private const int Pace = 250;

    /// <summary>Milliseconds a key in this run: the story is really typed at its pace with TUSSOCK_LONG=1; else faster, and what the keys would have taken is added to what pages and saving took.</summary>
    private static readonly int Typed = Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1" ? Pace : 20;

    private int count;

    internal async Task TypeAsync(string text)
    {
        count += text.Length;
        await page.Keyboard.TypeAsync(text, new() { Delay = Typed });
    }

    internal async Task PressAsync(string key)
    {
        count += key.Split('+').Length;
        await page.Keyboard.PressAsync(key, new() { Delay = Typed });
    }

    /// <summary>The boxes of a row from where the cursor stands, then on to the next row.</summary>
    internal async Task RowAsync(params string[] cells)
    {
        for (var i = 0; i < cells.Length; i++)
        {
            if (i > 0) await PressAsync("Tab");
            await TypeAsync(cells[i]);
        }

        await PressAsync("Enter");
    }

    /// <summary>Says how long it took at the pace of the paper, and that it was not too long.</summary>
    internal void Took(TimeSpan elapsed, string what, TimeSpan most)
    {
        var took = elapsed + TimeSpan.FromMilliseconds(count * (Pace - Typed));
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{count} keys at {Pace} ms: {took.TotalSeconds:F0} s for {what}"));
        Assert.True(took < most, took.ToString());
    }
}
