using Tussock.Wayfinding;

namespace Tussock.Reports.Sheets;

/// <summary>The way back to a nest as a check sheet prints it.</summary>
internal static class WayWords
{
    /// <summary>The way from the flag and where to look there; both ways where nobody wrote the sense; null where nothing was written.</summary>
    internal static Phrase? Of(NestWay way) => WayBack.InWords(way) is { } words ? Phrase.Of(way.Places.Length > 1 ? "sheets.way_either" : "sheets.way_back", ("way", words)) : null;
}
