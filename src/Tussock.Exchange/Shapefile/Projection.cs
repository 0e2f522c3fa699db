using Tussock.Exchange.Places;
using Tussock.Records;

namespace Tussock.Exchange.Shapefile;

/// <summary>What a .prj says about coordinates: degrees of WGS 84 are taken, NAD 83 with a note, everything else is refused by name.</summary>
internal static class Projection
{
    /// <summary>Tells what stands against a set of shapes.</summary>
    /// <param name="text">Text of the .prj; null where there is none.</param>
    /// <param name="findings">Where it is told.</param>
    internal static void Check(string? text, MapFindings findings)
    {
        var wkt = text?.Trim('\uFEFF', ' ', '\r', '\n', '\t', '\0');
        if (string.IsNullOrEmpty(wkt))
        {
            findings.Note(null, Phrase.Of("maps.no_projection"), Phrase.Of("maps.no_projection_todo"));
            return;
        }

        var isDegrees = wkt.StartsWith("GEOGCS", StringComparison.OrdinalIgnoreCase) || wkt.StartsWith("GEOGCRS", StringComparison.OrdinalIgnoreCase);
        var plain = wkt.Replace('_', ' ').ToUpperInvariant();
        var isWgs84 = plain.Contains("WGS 1984", StringComparison.Ordinal) || plain.Contains("WGS 84", StringComparison.Ordinal) || plain.Contains("WGS84", StringComparison.Ordinal);
        var isNad83 = plain.Contains("NORTH AMERICAN 1983", StringComparison.Ordinal) || plain.Contains("NAD83", StringComparison.Ordinal);
        if (isDegrees && isWgs84) return;
        if (isDegrees && isNad83) findings.Note(null, Phrase.Of("maps.nad83"), Phrase.Of("maps.nad83_todo"));
        else findings.Stop(null, Phrase.Of("maps.other_system", ("found", TableCheck.Shown(Name(wkt)))), Phrase.Of("maps.other_system_todo"));
    }

    private static string Name(string wkt)
    {
        var from = wkt.IndexOf('"', StringComparison.Ordinal);
        var to = from < 0 ? -1 : wkt.IndexOf('"', from + 1);
        return to < 0 ? wkt : wkt[(from + 1)..to];
    }
}
