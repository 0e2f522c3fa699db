using System.Collections.Immutable;
using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>One line of nests to draw.</summary>
/// <param name="Name">Name of the line.</param>
/// <param name="Nests">What became of each nest, in the order of the line.</param>
public sealed record NestRow(string Name, ImmutableArray<NestMark> Nests)
{
    /// <summary>The row alone, without name and key, as a small picture.</summary>
    /// <param name="words">The language.</param>
    /// <param name="size">Size of a nest in points.</param>
    public string Draw(Catalogue words, double size = 20)
    {
        var svg = new Svg(Math.Max(1, Nests.Length) * size, size, NestBoard.Counted(Nests, words));
        for (var i = 0; i < Nests.Length; i++) NestSymbol.Draw(svg, Nests[i], (i + 0.5) * size, size / 2, size * 0.92);
        return svg.ToString();
    }

    /// <summary>The row folded to a width, as a small picture for a table.</summary>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    /// <param name="size">Size of a nest in points.</param>
    public string DrawFolded(Catalogue words, double width, double size)
    {
        var across = Math.Max(1, (int)(width / size));
        var svg = new Svg(width, Math.Max(1, (Nests.Length + across - 1) / across) * size, NestBoard.Counted(Nests, words));
        for (var i = 0; i < Nests.Length; i++) NestSymbol.Draw(svg, Nests[i], ((i % across) + 0.5) * size, ((i / across) + 0.5) * size, size * 0.92);
        return svg.ToString();
    }
}

/// <summary>A nest drawn for each nest, line by line: what a landowner counts without being told a percentage.</summary>
public static class NestBoard
{
    private const double KeyHeight = 30;

    /// <summary>Draws the board.</summary>
    /// <param name="rows">Lines; none gives a picture that says so.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    /// <remarks>Nests get smaller from 60 on and again from 200 on; a line longer than the picture is wide goes on below.</remarks>
    public static string Draw(IReadOnlyList<NestRow> rows, Catalogue words, double width = Svg.ColumnWidth)
    {
        var all = rows.SelectMany(r => r.Nests).ToImmutableArray();
        var size = all.Length > 200 ? 12 : all.Length > 60 ? 16 : 24;
        var nameRoom = Rows.NameRoom(rows.Select(r => r.Name), width);
        var across = Math.Max(1, (int)((width - nameRoom) / size));
        var height = rows.Sum(r => Math.Max(1, Folded(r, across)) * (size + 2)) + KeyHeight;
        var svg = new Svg(width, height, words.Say("pictures.board_title"), Counted(all, words));
        var y = 0.0;
        foreach (var row in rows)
        {
            svg.Text(0, y + (size * 0.7), Svg.Cut(row.Name, nameRoom - 6), Math.Min(Svg.TextSize, size - 2));
            for (var i = 0; i < row.Nests.Length; i++) NestSymbol.Draw(svg, row.Nests[i], nameRoom + ((i % across) + 0.5) * size, y + ((i / across) * (size + 2)) + (size / 2.0), size * 0.92);
            y += Math.Max(1, Folded(row, across)) * (size + 2);
        }

        Key(svg, all, words, y + 18);
        return svg.ToString();
    }

    /// <summary>The counts as a sentence: "24 nests: 13 whole, 10 eaten, 1 lost otherwise, 0 not known".</summary>
    public static string Counted(ImmutableArray<NestMark> nests, Catalogue words) => words.Say(Phrase.Of("pictures.counted",
        ("nests", nests.Length), ("whole", nests.Count(m => m == NestMark.Whole)), ("eaten", nests.Count(m => m == NestMark.Eaten)), ("other", nests.Count(m => m == NestMark.OtherLoss)), ("unknown", nests.Count(m => m == NestMark.NotKnown))));

    private static int Folded(NestRow row, int across) => (row.Nests.Length + across - 1) / across;

    private static void Key(Svg svg, ImmutableArray<NestMark> all, Catalogue words, double y)
    {
        var x = 8.0;
        if (all.IsEmpty) svg.Text(0, y, words.Say("pictures.no_nests"));
        foreach (var mark in Enum.GetValues<NestMark>())
        {
            var count = all.Count(m => m == mark);
            if (count == 0) continue;
            var text = Numbers.Whole(count) + " " + words.Say(NestSymbol.KeyOf(mark));
            NestSymbol.Draw(svg, mark, x, y - 4, 15);
            svg.Text(x + 11, y, text);
            x += 32 + Svg.TextWidth(text);
        }
    }
}
