using Tussock.Records;

namespace Tussock.Review;

/// <summary>Nests set out in another year than the season's label.</summary>
internal static class YearLabel
{
    internal static void Look(Inspection on)
    {
        if (Cell.Whole(on.Season.Settings.Year) is not { } year) return;
        Nest? first = null;
        var count = 0;
        foreach (var nest in on.Season.Nests)
        {
            if (!nest.IsSet || nest.SetOn!.Value.Year == year) continue;
            count++;
            if (first is null || nest.Source.Row.Line < first.Source.Row.Line) first = nest;
        }

        if (first is not null) on.Add("year_label", Severity.Note, first.Source.Place("set_on"), ("label", on.Season.Settings.Year), ("set", first.SetOn!.Value), ("nests", count));
    }
}
