using System.Buffers.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Identity;
using Tussock.Store;

namespace Tussock.App.Serving.People;

/// <summary>The accounts of the data file as the framework's check of passkeys asks for them: it reads, and whoever called it writes.</summary>
internal sealed class PasskeyStore(DataFile file) : IUserPasskeyStore<Account>
{
    private static NotSupportedException ReadOnly => new("Accounts are changed on their own page");

    public Task<string> GetUserIdAsync(Account user, CancellationToken cancellationToken) => Task.FromResult(user.Person.Id.ToString());

    public Task<string?> GetUserNameAsync(Account user, CancellationToken cancellationToken) => Task.FromResult<string?>(user.Person.Name);

    public Task<string?> GetNormalizedUserNameAsync(Account user, CancellationToken cancellationToken) => GetUserNameAsync(user, cancellationToken);

    public Task<Account?> FindByIdAsync(string userId, CancellationToken cancellationToken) => Task.FromResult(Guid.TryParse(userId, out var id) ? file.Account(id) : null);

    public Task<Account?> FindByNameAsync(string normalizedUserName, CancellationToken cancellationToken) => Task.FromResult(file.Account(normalizedUserName));

    public Task<IList<UserPasskeyInfo>> GetPasskeysAsync(Account user, CancellationToken cancellationToken) => Task.FromResult<IList<UserPasskeyInfo>>([.. file.Passkeys(user.Person.Id).Select(Read)]);

    public Task<Account?> FindByPasskeyIdAsync(byte[] credentialId, CancellationToken cancellationToken) => Task.FromResult(file.Passkey(Named(credentialId)) is { } key ? file.Account(key.Person) : null);

    public Task<UserPasskeyInfo?> FindPasskeyAsync(Account user, byte[] credentialId, CancellationToken cancellationToken) =>
        Task.FromResult(file.Passkey(Named(credentialId)) is { } key && key.Person == user.Person.Id ? Read(key) : null);

    public Task SetUserNameAsync(Account user, string? userName, CancellationToken cancellationToken) => throw ReadOnly;

    public Task SetNormalizedUserNameAsync(Account user, string? normalizedName, CancellationToken cancellationToken) => throw ReadOnly;

    public Task<IdentityResult> CreateAsync(Account user, CancellationToken cancellationToken) => throw ReadOnly;

    public Task<IdentityResult> UpdateAsync(Account user, CancellationToken cancellationToken) => throw ReadOnly;

    public Task<IdentityResult> DeleteAsync(Account user, CancellationToken cancellationToken) => throw ReadOnly;

    public Task AddOrUpdatePasskeyAsync(Account user, UserPasskeyInfo passkey, CancellationToken cancellationToken) => throw ReadOnly;

    public Task RemovePasskeyAsync(Account user, byte[] credentialId, CancellationToken cancellationToken) => throw ReadOnly;

    public void Dispose()
    {
    }

    /// <summary>The id of a passkey as the file spells it.</summary>
    internal static string Named(byte[] id) => Base64Url.EncodeToString(id);

    /// <summary>What the file keeps of a passkey. What its maker said of itself when it was made is not kept: nothing is decided by it later.</summary>
    internal static string Write(UserPasskeyInfo key) =>
        JsonSerializer.Serialize(new Kept(Base64Url.EncodeToString(key.PublicKey), key.SignCount, key.Transports ?? [], key.IsUserVerified, key.IsBackupEligible, key.IsBackedUp));

    private static UserPasskeyInfo Read(Passkey key)
    {
        var kept = JsonSerializer.Deserialize<Kept>(key.Data)!;
        return new UserPasskeyInfo(Base64Url.DecodeFromChars(key.Id), Base64Url.DecodeFromChars(kept.PublicKey), key.AddedAt, kept.SignCount, kept.Transports, kept.IsUserVerified, kept.IsBackupEligible, kept.IsBackedUp, [], []);
    }

    private sealed record Kept(string PublicKey, uint SignCount, string[] Transports, bool IsUserVerified, bool IsBackupEligible, bool IsBackedUp);
}
