using Tussock.Words;

namespace Tussock.Pictures;

/// <summary>How the losses of a group came about, in counts.</summary>
/// <param name="Eaten">Taken by a predator.</param>
/// <param name="Trampled">Trampled.</param>
/// <param name="Other">Lost otherwise: flooded, mown, …</param>
/// <param name="NotRecorded">Lost, nobody wrote how.</param>
public sealed record LossSplitCounts(int Eaten, int Trampled, int Other, int NotRecorded)
{
    /// <summary>All losses.</summary>
    public int All => Eaten + Trampled + Other + NotRecorded;
}

/// <summary>Losses split into eaten, trampled, other and not known, as one bar under their number; each part has its word and count below.</summary>
public static class LossSplit
{
    private const double Top = 14;
    private const double BarHeight = 26;

    /// <summary>Draws the bar.</summary>
    /// <param name="counts">The losses.</param>
    /// <param name="words">The language.</param>
    /// <param name="width">Width in points.</param>
    /// <remarks>Counts stand inside a part that is wide enough; words stand below, moved aside so that none covers another.</remarks>
    public static string Draw(LossSplitCounts counts, Catalogue words, double width = Svg.ColumnWidth)
    {
        (string Key, int Count, string Fill, bool IsHatched)[] parts =
        [
            ("pictures.eaten", counts.Eaten, Ink.Eaten, false), ("pictures.trampled", counts.Trampled, Ink.Other, true),
            ("pictures.other_loss", counts.Other, Ink.Paper, true), ("pictures.not_recorded", counts.NotRecorded, Ink.Unknown, false),
        ];
        var svg = new Svg(width, Top + BarHeight + 25, words.Say(Phrase.Of("pictures.losses_title", ("losses", counts.All))));
        if (counts.All == 0)
        {
            svg.Text(0, 18, words.Say("pictures.no_losses"));
            return svg.ToString();
        }

        // Above the bar: a share of nests beside it must not be taken for the share of a part.
        svg.Text(0, Top - 4, words.Say(Phrase.Of("pictures.losses_all", ("losses", counts.All))), Svg.TextSize);
        var (x, labels) = (0.5, new List<Label>());
        foreach (var (key, count, fill, isHatched) in parts.Where(p => p.Count > 0))
        {
            var wide = (width - 1) * count / counts.All;
            svg.Rect(x, Top + 1, wide, BarHeight, new Paint(fill, Ink.Dark, 0.9));
            if (isHatched) svg.Hatch(x, Top + 1, wide, BarHeight, fill == Ink.Paper ? 4 : 8, Paint.Line(Ink.Dark, 0.8));
            labels.Add(new Label(x + (wide / 2), Numbers.Whole(count) + " " + words.Say(key)));
            x += wide;
        }

        foreach (var (label, at) in labels.Zip(Label.Apart(labels, width, Svg.TextSize)))
        {
            svg.Line(label.Wanted, Top + BarHeight + 1, at, Top + BarHeight + 10, Paint.Line(Ink.Grid, 0.8));
            svg.Text(at, Top + BarHeight + 20, label.Text, Svg.TextSize, Anchor.Middle);
        }

        return svg.ToString();
    }
}
