using System.Globalization;

namespace Tussock.Journal;

/// <summary>Gives new rows places between the rows that stand around them in the file, so that files come out in the order in which they came in.</summary>
internal static class Placing
{
    /// <summary>Fills the places that are NaN.</summary>
    /// <param name="places">Place of each row of the file: its stored place, NaN for a new row, infinite for a stored row that has none.</param>
    /// <param name="last">The greatest stored place of the table; 0 when there is none.</param>
    internal static void Fill(Span<double> places, double last)
    {
        var before = 0.0;
        for (var i = 0; i < places.Length; i++)
        {
            if (double.IsFinite(places[i])) before = places[i];
            if (!double.IsNaN(places[i])) continue;
            var end = i;
            while (end < places.Length && !double.IsFinite(places[end])) end++;
            var count = end - i;
            var isBetween = end < places.Length && places[end] > before;
            if (!isBetween) before = Math.Max(before, last);
            var step = isBetween ? (places[end] - before) / (count + 1) : 1;
            for (var k = 1; i < end; i++, k++) if (double.IsNaN(places[i])) places[i] = before + (k * step);
            i--;
        }
    }

    internal static string Text(double place) => place.ToString("R", CultureInfo.InvariantCulture);
}
