using Tussock.Records;

namespace Tussock.Review;

/// <summary>Nests of one line that were set out more than three days apart.</summary>
internal static class SetOutSpread
{
    private const int Usual = 3;

    internal static void Look(Inspection on)
    {
        foreach (var line in on.Season.Nests.Where(n => n.IsSet).GroupBy(n => n.Transect))
        {
            var first = line.MinBy(n => n.SetOn)!;
            var last = line.MaxBy(n => n.SetOn)!;
            if (last.SetOn!.Value.DayNumber - first.SetOn!.Value.DayNumber > Usual)
                on.Add("set_out_spread", Severity.Odd, last.Source.Place("set_on"), line.Key, ("first", first.SetOn.Value), ("last", last.SetOn.Value), ("nest", last.Number), ("usual", Usual));
        }
    }
}
