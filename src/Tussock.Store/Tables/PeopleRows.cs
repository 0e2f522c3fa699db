namespace Tussock.Store.Tables;

/// <summary>Somebody who may sign in. Times are milliseconds since 1970, UTC.</summary>
internal sealed class PersonRow
{
    public string Id { get; set; } = "";

    public string Name { get; set; } = "";

    /// <summary>The name as it is looked up: spelled with capitals, so that no two people differ by them alone.</summary>
    public string NameKey { get; set; } = "";

    public string Role { get; set; } = "";

    /// <summary>A JSON list of names.</summary>
    public string Properties { get; set; } = "";

    /// <summary>What the password hasher made; the password itself is kept nowhere.</summary>
    public string PasswordHash { get; set; } = "";

    /// <summary>Changes with password, role and properties: whoever signed in before has to do so again.</summary>
    public string Stamp { get; set; } = "";

    public long AddedAt { get; set; }
}

/// <summary>A passkey of somebody. Times are milliseconds since 1970, UTC; 0 is never.</summary>
internal sealed class PasskeyRow
{
    public string Id { get; set; } = "";

    public string Person { get; set; } = "";

    public string Name { get; set; } = "";

    public string Data { get; set; } = "";

    public long AddedAt { get; set; }

    public long UsedAt { get; set; }
}

/// <summary>One line of the book of who came in and who changed accounts.</summary>
internal sealed class WitnessedRow
{
    public long Id { get; set; }

    public long At { get; set; }

    public string What { get; set; } = "";

    public string By { get; set; } = "";

    public string Whom { get; set; } = "";

    public string Detail { get; set; } = "";

    public string Address { get; set; } = "";
}
