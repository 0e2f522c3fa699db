using System.Collections.Concurrent;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;

namespace Tussock.App.Serving.People;

/// <summary>Who is signed in, in memory: a cookie is only a number that means nothing once its owner has signed out or the desk was started anew.</summary>
internal sealed class SessionShelf : ITicketStore
{
    private const int Most = 1000;
    private readonly ConcurrentDictionary<string, AuthenticationTicket> all = new(StringComparer.Ordinal);

    public Task<string> StoreAsync(AuthenticationTicket ticket)
    {
        if (all.Count >= Most)
        {
            foreach (var old in all.OrderBy(t => t.Value.Properties.ExpiresUtc).Take(Most / 2).Select(t => t.Key)) all.TryRemove(old, out _);
        }

        var key = Convert.ToHexString(RandomNumberGenerator.GetBytes(32));
        all[key] = ticket;
        return Task.FromResult(key);
    }

    public Task RenewAsync(string key, AuthenticationTicket ticket)
    {
        // Whoever signed out meanwhile stays out.
        if (all.TryGetValue(key, out var before)) all.TryUpdate(key, ticket, before);
        return Task.CompletedTask;
    }

    public Task<AuthenticationTicket?> RetrieveAsync(string key) => Task.FromResult(all.GetValueOrDefault(key));

    public Task RemoveAsync(string key)
    {
        all.TryRemove(key, out _);
        return Task.CompletedTask;
    }
}
