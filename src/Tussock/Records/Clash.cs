namespace Tussock.Records;

/// <summary>Two records of one name, made by two people who did not know of each other: one stands, the other is in no count until somebody decides.</summary>
/// <param name="What">pasture, transect, nest or segment.</param>
/// <param name="Key">Its name as people read it.</param>
/// <param name="Stands">The record with the smallest id.</param>
/// <param name="Other">The other.</param>
public sealed record Clash(string What, string Key, Source Stands, Source Other)
{
    /// <summary>Columns in which the two differ, with both texts; the id is none of them.</summary>
    public IEnumerable<(string Column, string Stands, string Other)> Differences()
    {
        foreach (var column in Stands.Table.Columns)
        {
            if (column != "id" && Stands.Text(column) != Other.Text(column)) yield return (column, Stands.Text(column), Other.Text(column));
        }
    }
}
