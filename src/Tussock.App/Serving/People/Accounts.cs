using System.Collections.Immutable;
using Tussock.Records;
using Tussock.Store;
using Tussock.Words;

namespace Tussock.App.Serving.People;

/// <summary>What page and command line share about accounts: tokens of roles, what goes with which role, the book in words.</summary>
internal static class Accounts
{
    /// <summary>The role of a token; null when it is none.</summary>
    internal static PersonRole? Role(string token) => Enum.GetValues<PersonRole>().Where(r => Token(r) == token).Select(r => (PersonRole?)r).FirstOrDefault();

    /// <summary>The token of a role.</summary>
    internal static string Token(PersonRole role) => role.ToString().ToLowerInvariant();

    /// <summary>What is wrong with properties for a role: a landowner has some, nobody else has any.</summary>
    /// <param name="role">The role.</param>
    /// <param name="properties">The properties; emptied where the role takes none.</param>
    /// <param name="isStrict">Whether properties that mean nothing are refused: on the command line they are a mistake, on the page a box left ticked.</param>
    internal static Phrase? Wrong(PersonRole role, ref ImmutableArray<string> properties, bool isStrict)
    {
        if (role == PersonRole.Landowner) return properties.IsEmpty ? Phrase.Of("people.no_property") : null;
        if (isStrict && !properties.IsEmpty) return Phrase.Of("people.no_use_of_property");
        properties = [];
        return null;
    }

    /// <summary>Names of the properties of a season, in its order.</summary>
    internal static ImmutableArray<string> Properties(SeasonTables tables)
    {
        if (tables.Table(RecordKind.Pastures) is not { } pastures || pastures.IndexOf("property") is not (>= 0 and var at)) return [];
        return [.. pastures.Rows.Select(r => r.Cells[at]).Where(p => p.Length > 0).Distinct(StringComparer.Ordinal)];
    }

    /// <summary>A line of the book in words.</summary>
    internal static Phrase Line(Witnessed seen, Catalogue words)
    {
        if (seen is { Act: WitnessedAct.SignInFailed, Detail: "passkey" }) return Phrase.Of("people.book.failed_passkey");
        if (seen.Act == WitnessedAct.SignInFailed && seen.Whom.Length == 0) return Phrase.Of("people.book.failed_unknown");
        var role = Role(seen.Detail.ToLowerInvariant()) is { } r ? words.Say("people.role." + Token(r)) : "";
        return Phrase.Of(
            seen.Act switch
            {
                WitnessedAct.SignedIn => "people.book.signed_in",
                WitnessedAct.SignedOut => "people.book.signed_out",
                WitnessedAct.SignInFailed => "people.book.failed",
                WitnessedAct.ToldToWait => "people.book.told_to_wait",
                WitnessedAct.Added => "people.book.added",
                WitnessedAct.Changed => "people.book.changed",
                WitnessedAct.Removed => "people.book.removed",
                WitnessedAct.PasskeyAdded => "people.book.passkey_added",
                WitnessedAct.PasskeyRemoved => "people.book.passkey_removed",
                _ => "people.book.password_set",
            },
            ("who", seen.By), ("whom", seen.Whom), ("role", role));
    }
}
