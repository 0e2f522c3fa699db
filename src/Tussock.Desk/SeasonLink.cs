namespace Tussock.Desk;

/// <summary>A season that somebody may look at instead.</summary>
/// <param name="Label">What it is called here.</param>
/// <param name="Address">What the addresses of its pages begin with.</param>
/// <param name="IsHere">Whether the page is of it.</param>
public sealed record SeasonLink(string Label, string Address, bool IsHere)
{
    /// <summary>The page of that season that is most like this one: a record, a sheet or a report is one season's alone.</summary>
    /// <param name="path">Address of this page within its season.</param>
    public string Like(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        return Address + path.Split('/') switch
        {
            [_, "record" or "why" or "boundary" or "own", ..] => "/",
            [_, "records" or "results", _] => path,
            [_, var first, ..] => "/" + first,
            _ => "/",
        };
    }
}
