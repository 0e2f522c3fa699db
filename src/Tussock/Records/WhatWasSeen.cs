namespace Tussock.Records;

/// <summary>From what was seen at a nest to a finding, for a visit that describes bowl, washer and eggs but names no finding.</summary>
/// <source>Common practice, no source: washer or bowl marks the place, so a nest without either is not relocated, not lost.</source>
public static class WhatWasSeen
{
    /// <summary>Cause of the only other loss that a description amounts to: the eggs spoiled in the bowl, which ends the watching and is no loss.</summary>
    public const string SpoiledInPlace = "spoiled_in_place";

    /// <summary>The finding that the description of a visit amounts to.</summary>
    /// <param name="source">Row of the visit.</param>
    /// <returns>The finding; null when nothing was described.</returns>
    /// <remarks>
    /// Washer or bowl found and all eggs whole: intact, also when the washer was moved. Washer or bowl found and eggs gone: depredated, who unknown.
    /// Some eggs gone or broken: left to the season's loss rule by the egg count (reads as depredated). Nothing found: not relocated.
    /// Eggs spoiled, none broken or gone, bowl as set: other loss, with the cause <see cref="SpoiledInPlace"/>.
    /// </remarks>
    public static Finding? FindingFrom(Source source)
    {
        var washer = source.Token("washer");
        var bowl = source.Token("bowl");
        var whole = source.Number("eggs_intact") ?? source.Number("eggs_found_whole");
        var gone = (source.Number("eggs_broken") ?? 0) + (source.Number("eggs_missing") ?? 0);
        if (source.Number("eggs_spoiled") > 0 && gone == 0 && bowl == "as_set") return Finding.OtherLoss;
        var isFound = washer is "in_bowl" or "moved" || bowl is "as_set" or "disturbed";
        if (whole > 0) return gone > 0 ? Finding.Depredated : Finding.Intact;
        if (isFound && (whole == 0 || gone > 0)) return Finding.Depredated;
        if (isFound) return null;
        return washer == "not_found" || bowl == "gone" || source.Text("not_found_because").Length > 0 ? Finding.NotRelocated : null;
    }
}
