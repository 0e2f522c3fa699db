using System.Collections.Immutable;

namespace Tussock.Store;

/// <summary>What somebody may do at the desk.</summary>
public enum PersonRole
{
    /// <summary>Everything, accounts among it.</summary>
    Lead,

    /// <summary>Records, worklist, entry, sheets, map; no accounts.</summary>
    Crew,

    /// <summary>Reads everything, changes nothing.</summary>
    Reviewer,

    /// <summary>Reads what was found on the own properties, without places.</summary>
    Landowner,
}

/// <summary>Somebody who may sign in.</summary>
/// <param name="Id">Id.</param>
/// <param name="Name">Name, as it stands beside what this person writes.</param>
/// <param name="Role">What this person may do.</param>
/// <param name="Properties">Names of a landowner's properties; empty for everybody else.</param>
/// <param name="AddedAt">When the account was made.</param>
public sealed record Person(Guid Id, string Name, PersonRole Role, ImmutableArray<string> Properties, DateTimeOffset AddedAt)
{
    /// <summary>Longest name, characters.</summary>
    public const int LongestName = 80;

    /// <summary>A name without control characters and blanks around it; null when nothing is left of it, or too much.</summary>
    public static string? Named(string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        var plain = string.Join(' ', new string([.. typed.Where(c => !char.IsControl(c) || c is '\t')]).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        return plain.Length is > 0 and <= LongestName && !plain.Any(char.IsSurrogate) ? plain : null;
    }

    /// <summary>The name as it is looked up.</summary>
    internal static string Key(string name) => name.ToUpperInvariant();
}

/// <summary>An account with what a sign-in is checked against.</summary>
/// <param name="Person">The person.</param>
/// <param name="PasswordHash">What the password hasher made.</param>
/// <param name="Stamp">Changes with password, role and properties.</param>
public sealed record Account(Person Person, string PasswordHash, string Stamp);

/// <summary>What is written into the book of accounts.</summary>
public enum WitnessedAct
{
    /// <summary>Somebody signed in.</summary>
    SignedIn,

    /// <summary>Somebody signed out.</summary>
    SignedOut,

    /// <summary>A sign-in failed; the name is there only where there is such an account.</summary>
    SignInFailed,

    /// <summary>Too many sign-ins failed from one address: it was told to wait.</summary>
    ToldToWait,

    /// <summary>An account was made.</summary>
    Added,

    /// <summary>Role or properties of an account were changed.</summary>
    Changed,

    /// <summary>An account was removed.</summary>
    Removed,

    /// <summary>A password was set.</summary>
    PasswordSet,

    /// <summary>Somebody made a passkey.</summary>
    PasskeyAdded,

    /// <summary>Somebody had a passkey of their own forgotten.</summary>
    PasskeyRemoved,
}

/// <summary>One line of the book of accounts.</summary>
/// <param name="At">When.</param>
/// <param name="Act">What happened.</param>
/// <param name="By">Who did it; empty when nobody was signed in.</param>
/// <param name="Whom">Whose account it is about; empty when there is none of that name.</param>
/// <param name="Detail">The role, where one was given.</param>
/// <param name="Address">Where it came from; empty at the desk itself.</param>
public sealed record Witnessed(DateTimeOffset At, WitnessedAct Act, string By, string Whom, string Detail = "", string Address = "");
