namespace Tussock.Actions;

/// <summary>A piece of land in a contrast: a pasture, or the lines of a pasture on which alone the action was taken.</summary>
/// <param name="Property">Property.</param>
/// <param name="Pasture">Pasture.</param>
/// <param name="IsLines">Whether it is not the whole pasture but lines of it.</param>
/// <param name="FromYear">First year whose nests were set out after the action; null where none was taken.</param>
public sealed record ActionLand(string Property, string Pasture, bool IsLines, string? FromYear)
{
    /// <summary>The land as it is called in sentences.</summary>
    public Phrase Name(bool hasProperty) => Phrase.Of(IsLines ? "action.land_lines" : "action.land", ("name", hasProperty ? Property + ", " + Pasture : Pasture));
}
