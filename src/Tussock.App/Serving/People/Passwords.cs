using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using Tussock.Store;

namespace Tussock.App.Serving.People;

/// <summary>Passwords: what may be one, and how one is kept and tried. May be shared between threads.</summary>
/// <remarks>The framework's own hasher: PBKDF2 with HMAC-SHA-512, a salt for each.</remarks>
internal sealed class Passwords
{
    /// <summary>Shortest password, characters. There is no other rule: length is what a guesser has to pay for.</summary>
    internal const int Shortest = 12;

    /// <summary>Longest password, characters.</summary>
    internal const int Longest = 256;

    private const int Rounds = 210_000;

    private readonly PasswordHasher<Account> hasher;
    private readonly string nobodys;

    internal Passwords(int rounds = Rounds)
    {
        hasher = new PasswordHasher<Account>(Options.Create(new PasswordHasherOptions { IterationCount = rounds }));
        nobodys = Hash("the password of nobody");
    }

    /// <summary>What is wrong with a new password; null when nothing is.</summary>
    internal static Phrase? Wrong(string typed) => typed.Length switch
    {
        < Shortest => Phrase.Of("people.too_short", ("least", Shortest)),
        > Longest => Phrase.Of("people.too_long", ("most", Longest)),
        _ => null,
    };

    /// <summary>What is kept of a password.</summary>
    internal string Hash(string password) => hasher.HashPassword(null!, password);

    /// <summary>Whether the password is the account's. An account that is not there takes as long as one that is.</summary>
    internal bool IsRight(Account? account, string typed)
    {
        if (typed.Length > Longest) typed = "";
        var isRight = hasher.VerifyHashedPassword(null!, account?.PasswordHash ?? nobodys, typed) != PasswordVerificationResult.Failed;
        return isRight && account is not null;
    }
}
