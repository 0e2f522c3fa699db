using System.Collections.Immutable;
using System.Globalization;

namespace Tussock.Exchange.OldSheets;

/// <summary>What a column of somebody's own sheet is.</summary>
public enum SheetMeaning
{
    /// <summary>Nothing that is taken.</summary>
    Nothing,

    /// <summary>Line and nest in one, such as C1-4; or the nest alone.</summary>
    Station,

    /// <summary>The line.</summary>
    Transect,

    /// <summary>The pasture.</summary>
    Pasture,

    /// <summary>The cover class.</summary>
    Cover,

    /// <summary>The plant.</summary>
    Plant,

    /// <summary>Date of set-out.</summary>
    SetOn,

    /// <summary>What was found at the first check.</summary>
    FirstCheck,

    /// <summary>Date of the first check.</summary>
    FirstDate,

    /// <summary>What was found at the second check.</summary>
    SecondCheck,

    /// <summary>Date of the second check.</summary>
    SecondDate,

    /// <summary>A remark.</summary>
    Note,
}

/// <summary>First guesses at a sheet; whoever imports it says what is so.</summary>
/// <remarks>The words are those that crews write over their columns and into them: common practice, no source.</remarks>
internal static class SheetGuess
{
    private static readonly (SheetMeaning Meaning, string[] Words)[] Headings =
    [
        (SheetMeaning.FirstDate, ["date 14", "date14", "14 date", "1st date", "first date", "date 1", "fecha 14", "fecha 1"]), (SheetMeaning.SecondDate, ["date 28", "date28", "28 date", "2nd date", "second date", "date 2", "fecha 28", "fecha 2"]),
        (SheetMeaning.SetOn, ["set on", "set", "set out", "set-out", "date set", "placed", "out", "fecha puesto", "puesto"]), (SheetMeaning.FirstCheck, ["14", "d14", "day 14", "day14", "14 d", "14d", "1st", "1st check", "first check", "check 1", "check1", "día 14", "dia 14"]),
        (SheetMeaning.SecondCheck, ["28", "d28", "day 28", "day28", "28 d", "28d", "2nd", "2nd check", "second check", "check 2", "check2", "día 28", "dia 28", "final"]),
        (SheetMeaning.Station, ["stn", "stn.", "station", "nest", "nest no", "nest #", "no", "no.", "#", "sta", "estación", "estacion", "nido"]), (SheetMeaning.Transect, ["line", "transect", "tr", "tr.", "trans", "línea", "linea", "transecto"]),
        (SheetMeaning.Pasture, ["pasture", "past", "past.", "unit", "potrero"]), (SheetMeaning.Cover, ["veg", "veg.", "cover", "habitat", "cover class", "cobertura"]), (SheetMeaning.Plant, ["plant", "species", "plant sp", "planta"]),
        (SheetMeaning.Note, ["rem", "rem.", "remarks", "remark", "note", "notes", "comment", "comments", "obs", "obs.", "nota", "notas"]),
    ];

    private static readonly (string Finding, string[] Codes)[] Codes =
    [
        ("intact", ["o", "0k", "ok", "whole", "w", "i", "int", "intact", "y", "yes", "good", "entero"]), ("depredated", ["x", "lost", "l", "d", "dep", "depredated", "eaten", "e", "gone", "destroyed", "perdido"]),
        ("not_relocated", ["nr", "n/r", "nf", "n/f", "not found", "?", "nl", "unk"]), ("other_loss", ["t", "tr", "tramp", "trampled", "flood", "flooded", "abd"]), ("not_set", ["ns", "n/s", "not set", "none"]),
    ];

    internal static SheetMeaning Of(string heading, IReadOnlyCollection<string> values)
    {
        var plain = string.Join(' ', heading.ToLowerInvariant().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        var guess = Headings.FirstOrDefault(h => h.Words.Contains(plain, StringComparer.Ordinal)).Meaning;
        // A date under "14" is a date of the check, not what was found there.
        var isDates = values.Count > 0 && values.All(v => DateOnly.TryParseExact(v, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _));
        return guess switch { SheetMeaning.FirstCheck when isDates => SheetMeaning.FirstDate, SheetMeaning.SecondCheck when isDates => SheetMeaning.SecondDate, _ => guess };
    }

    /// <summary>The finding that a code probably means; empty when nothing is probable.</summary>
    internal static string Finding(string code) => Codes.FirstOrDefault(c => c.Codes.Contains(code.ToLowerInvariant(), StringComparer.Ordinal)).Finding ?? "";

    /// <summary>Whether a text heads a row that sums up.</summary>
    internal static bool IsTotal(string text) => text.TrimEnd(':', '.').ToLowerInvariant() is "total" or "totals" or "sum" or "subtotal" or "overall" or "all" or "whole" or "intact" or "survived" or "survival" or "percent" or "%" or "n" or "suma" or "totales";

    /// <summary>The codes that crews use, in the order in which a choice shows them.</summary>
    internal static ImmutableArray<string> Findings { get; } = ["intact", "depredated", "other_loss", "not_relocated", "not_set", "no_visit"];
}
