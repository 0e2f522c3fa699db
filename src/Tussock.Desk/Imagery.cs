namespace Tussock.Desk;

/// <summary>Pictures of the land from above whose address a person has given. Nothing is asked of it before somebody ticks them on the map.</summary>
/// <param name="Address">Where a picture is: an address with <c>{z}</c>, <c>{x}</c> and <c>{y}</c> (zoom, column and row of web map tiles).</param>
/// <param name="Origin">Scheme, name and port of that address: what the map's page may fetch pictures from.</param>
/// <param name="Host">Name of the machine that they come from, to tell people.</param>
/// <param name="Credit">Whom the pictures are of, as their owner wants it said; empty: nobody asked.</param>
public sealed record Imagery(string Address, string Origin, string Host, string Credit)
{
    /// <summary>Pictures at an address; null when it is not one that pictures can come from.</summary>
    /// <param name="address">https, or http on this machine; with each of <c>{z}</c>, <c>{x}</c> and <c>{y}</c> behind the name of the machine, and no other braces.</param>
    /// <param name="credit">Whom the pictures are of.</param>
    /// <remarks>Names and passwords in front of the machine's name are refused: every page of the map would show them.</remarks>
    public static Imagery? Of(string address, string credit)
    {
        ArgumentNullException.ThrowIfNull(address);
        var filled = address;
        foreach (var part in (string[])["{z}", "{x}", "{y}"])
        {
            if (!address.Contains(part, StringComparison.Ordinal)) return null;
            filled = filled.Replace(part, "0", StringComparison.Ordinal);
        }

        if (filled.AsSpan().ContainsAny('{', '}') || address.Any(c => c <= ' ' || c > '~') || !Uri.TryCreate(filled, UriKind.Absolute, out var uri)) return null;
        var isOwn = uri.Scheme == Uri.UriSchemeHttp && uri.IsLoopback;
        if ((uri.Scheme != Uri.UriSchemeHttps && !isOwn) || uri.UserInfo.Length > 0 || uri.Host.Length == 0) return null;
        // The machine's name may not hang on the place: the page could not say whom it asks.
        var origin = uri.GetLeftPart(UriPartial.Authority);
        return address.StartsWith(origin + "/", StringComparison.OrdinalIgnoreCase) ? new Imagery(address, origin, uri.Host, credit) : null;
    }
}
