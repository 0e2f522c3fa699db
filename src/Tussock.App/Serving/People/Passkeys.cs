using System.Collections.Concurrent;
using System.Net;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using Tussock.Store;

namespace Tussock.App.Serving.People;

/// <summary>Making passkeys and signing in with them, by the framework's own check of what devices sign (Web Authentication, level 3, a standard of the W3C). May be shared between threads.</summary>
/// <remarks>A question that a device signs is good for one answer and five minutes. The device must ask its owner for a finger, a face or a number.</remarks>
internal sealed class Passkeys
{
    private const int MostOpen = 1000;
    private static readonly TimeSpan Life = TimeSpan.FromMinutes(5);
    private readonly ConcurrentDictionary<string, Question> open = new(StringComparer.Ordinal);
    private readonly PasskeyHandler<Account> handler;
    private readonly DataFile file;
    private readonly TimeProvider clock;

    internal Passkeys(DataFile file, TimeProvider clock)
    {
        (this.file, this.clock) = (file, clock);
        var nothing = new ServiceCollection().BuildServiceProvider();
        var accounts = new UserManager<Account>(
            new PasskeyStore(file), Options.Create(new IdentityOptions()), new PasswordHasher<Account>(), [], [], new UpperInvariantLookupNormalizer(), new IdentityErrorDescriber(), nothing, NullLogger<UserManager<Account>>.Instance);
        handler = new PasskeyHandler<Account>(accounts, Options.Create(new IdentityPasskeyOptions { ResidentKeyRequirement = "required", UserVerificationRequirement = "required", AuthenticatorTimeout = Life }));
    }

    /// <summary>Whether this address of the desk can have passkeys: they belong to a name, never to a number.</summary>
    internal static bool IsPossible(HostString host) => host.HasValue && !IPAddress.TryParse(host.Host.Trim('[', ']'), out _);

    /// <summary>What a device is asked that makes a passkey.</summary>
    /// <returns>Key of the question, and the question as JSON.</returns>
    internal async Task<(string Key, string Options)> AskToMakeAsync(HttpContext context, Account account)
    {
        var asked = await handler.MakeCreationOptionsAsync(new PasskeyUserEntity { Id = account.Person.Id.ToString(), Name = account.Person.Name, DisplayName = account.Person.Name }, context);
        return (Open(asked.AttestationState!, account.Person.Id), asked.CreationOptionsJson);
    }

    /// <summary>What a device is asked that signs somebody in; it finds the passkey by the name of the desk.</summary>
    /// <returns>Key of the question, and the question as JSON.</returns>
    internal async Task<(string Key, string Options)> AskToSignInAsync(HttpContext context)
    {
        var asked = await handler.MakeRequestOptionsAsync(null, context);
        return (Open(asked.AssertionState!, null), asked.RequestOptionsJson);
    }

    /// <summary>Keeps the passkey that a device has made.</summary>
    /// <returns>Whether it was kept.</returns>
    internal async Task<bool> KeepAsync(HttpContext context, Account account, (string Key, string Credential, string Name) answer, string from)
    {
        if (Answered(answer.Key, account.Person.Id) is not { } state) return false;
        var made = await handler.PerformAttestationAsync(new PasskeyAttestationContext { HttpContext = context, CredentialJson = answer.Credential, AttestationState = state });
        if (!made.Succeeded || made.UserEntity.Id != account.Person.Id.ToString()) return false;
        return file.AddPasskey(new Passkey(PasskeyStore.Named(made.Passkey.CredentialId), account.Person.Id, answer.Name, PasskeyStore.Write(made.Passkey), clock.GetUtcNow(), null), from);
    }

    /// <summary>The account that a device has signed for; null when the answer is not right.</summary>
    internal async Task<Account?> SignedAsync(HttpContext context, string key, string credential)
    {
        if (Answered(key, null) is not { } state) return null;
        var signed = await handler.PerformAssertionAsync(new PasskeyAssertionContext { HttpContext = context, CredentialJson = credential, AssertionState = state });
        if (!signed.Succeeded) return null;
        file.UsedPasskey(PasskeyStore.Named(signed.Passkey.CredentialId), PasskeyStore.Write(signed.Passkey), clock.GetUtcNow());
        return file.Account(signed.User.Person.Id);
    }

    private string Open(string state, Guid? person)
    {
        var now = clock.GetUtcNow();
        foreach (var (old, question) in open) if (question.Until <= now) open.TryRemove(old, out _);
        if (open.Count >= MostOpen) foreach (var old in open.OrderBy(q => q.Value.Until).Take(MostOpen / 2).Select(q => q.Key)) open.TryRemove(old, out _);
        var key = Convert.ToHexString(RandomNumberGenerator.GetBytes(16));
        open[key] = new Question(state, person, now + Life);
        return key;
    }

    private string? Answered(string key, Guid? person) => open.TryRemove(key, out var question) && question.Person == person && question.Until > clock.GetUtcNow() ? question.State : null;

    private sealed record Question(string State, Guid? Person, DateTimeOffset Until);
}
