namespace Tussock.Evidence;

/// <summary>A sign with its values, looked up in the catalogue.</summary>
/// <param name="Sign">Index of the sign.</param>
/// <param name="Values">Indexes of its values, ascending; several share its weight.</param>
internal readonly record struct SignRead(int Sign, int[] Values);
