namespace Tussock.Store;

/// <summary>One half of a pair of keys: a device holds the other half and signs with it, so that nothing that is kept here could sign anybody in.</summary>
/// <param name="Id">Id that the device gave it, base64url.</param>
/// <param name="Person">Whose it is.</param>
/// <param name="Name">What its owner calls it.</param>
/// <param name="Data">Public key and what else a signature is checked against, as JSON of whoever checks it.</param>
/// <param name="AddedAt">When it was made.</param>
/// <param name="UsedAt">When somebody last signed in with it; null when nobody has.</param>
public sealed record Passkey(string Id, Guid Person, string Name, string Data, DateTimeOffset AddedAt, DateTimeOffset? UsedAt)
{
    /// <summary>So many are enough for one person.</summary>
    public const int Most = 20;
}
