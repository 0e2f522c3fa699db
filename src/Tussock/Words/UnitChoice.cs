namespace Tussock.Words;

/// <summary>Units in which amounts are said. What is stored, typed, exported or in a JSON document has the same unit whatever was chosen.</summary>
public enum UnitChoice
{
    /// <summary>Both side by side where a sentence has room for both; elsewhere those of the trade, clumps an acre and metres.</summary>
    Both,

    /// <summary>US customary units: acres, feet, miles, inches.</summary>
    Us,

    /// <summary>Metric units: hectares, metres, kilometres, millimetres.</summary>
    Metric,
}
