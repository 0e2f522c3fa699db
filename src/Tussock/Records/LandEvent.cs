namespace Tussock.Records;

/// <summary>Something that happened to the land: cattle in, rain, a burn. May be shared between threads.</summary>
/// <param name="Property">Property; empty: not said.</param>
/// <param name="Pasture">Pasture; empty: the whole property.</param>
/// <param name="Transect">Transect; empty: the whole pasture.</param>
/// <param name="From">First date, when written.</param>
/// <param name="To">Last date, when written.</param>
/// <param name="Kind">Kind as a token, for example <c>livestock_in</c>.</param>
/// <param name="Amount">Amount in <paramref name="Unit"/>, when written.</param>
/// <param name="Unit">Unit; empty when not written.</param>
/// <param name="Source">The row it was read from.</param>
public sealed record LandEvent(string Property, string Pasture, string Transect, DateOnly? From, DateOnly? To, string Kind, double? Amount, string Unit, Source Source);
