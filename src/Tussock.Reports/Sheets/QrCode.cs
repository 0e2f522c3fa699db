using QRCoder;
using Tussock.Pictures;
using Tussock.Words;

namespace Tussock.Reports.Sheets;

/// <summary>A code that a phone's camera reads, drawn as one picture.</summary>
internal static class QrCode
{
    /// <summary>Draws an address with the middle level of correction: a code that a thumb has smeared can still be read.</summary>
    internal static string Draw(string address, double size, Catalogue words)
    {
        using var maker = new QRCodeGenerator();
        using var code = maker.CreateQrCode(address, QRCodeGenerator.ECCLevel.M);
        var rows = code.ModuleMatrix;
        var svg = new Svg(rows.Count, rows.Count, words.Say("sheets.code"));
        for (var y = 0; y < rows.Count; y++)
        {
            for (int x = 0, from = -1; x <= rows.Count; x++)
            {
                var isDark = x < rows.Count && rows[y][x];
                if (isDark && from < 0) from = x;
                if (isDark || from < 0) continue;
                svg.Rect(from, y, x - from, 1, new Paint("#000000"));
                from = -1;
            }
        }

        // Modules are units; the page scales the picture to its size. Crisp edges, so that no hairline shows between rows.
        var side = Numbers.Short(size);
        return svg.ToString().Replace("width=\"" + Numbers.Whole(rows.Count) + "pt\" height=\"" + Numbers.Whole(rows.Count) + "pt\"", "width=\"" + side + "pt\" height=\"" + side + "pt\" shape-rendering=\"crispEdges\"", StringComparison.Ordinal);
    }
}
