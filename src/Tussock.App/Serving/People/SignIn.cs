using System.Collections.Immutable;
using System.Security.Claims;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;
using Tussock.Store;

namespace Tussock.App.Serving.People;

/// <summary>Signing in and out by a cookie, and who a request comes from.</summary>
internal static class SignIn
{
    /// <summary>Browsers take a cookie of this name only over https, for this host alone and for all of it.</summary>
    internal const string Cookie = "__Host-tussock";

    private const string Scheme = "tussock";
    private const string Stamp = "stamp";

    /// <summary>Whoever has not been seen for so long signs in again.</summary>
    private static readonly TimeSpan Life = TimeSpan.FromHours(12);

    internal static void Add(IServiceCollection services) => services.AddAuthentication(Scheme).AddCookie(Scheme, o =>
    {
        o.Cookie.Name = Cookie;
        o.Cookie.HttpOnly = true;
        o.Cookie.SameSite = SameSiteMode.Strict;
        o.Cookie.SecurePolicy = CookieSecurePolicy.Always;
        o.Cookie.Path = "/";
        o.ExpireTimeSpan = Life;
        o.SlidingExpiration = true;
        o.SessionStore = new SessionShelf();
    });

    /// <summary>Who a request comes from; null when nobody is signed in, or the account has changed since.</summary>
    internal static async Task<Visitor?> VisitorAsync(HttpContext context, DataFile file)
    {
        if (await context.AuthenticateAsync(Scheme) is not { Succeeded: true, Principal: { } principal }) return null;
        if (!Guid.TryParse(principal.FindFirstValue(ClaimTypes.NameIdentifier), out var id) || file.Account(id) is not { } account || account.Stamp != principal.FindFirstValue(Stamp)) return null;
        // Tokens against forged forms are bound to this person.
        context.User = principal;
        return Of(account.Person);
    }

    internal static async Task InAsync(HttpContext context, Account account)
    {
        var claims = new[] { new Claim(ClaimTypes.NameIdentifier, account.Person.Id.ToString()), new Claim(Stamp, account.Stamp) };
        await context.SignInAsync(Scheme, new ClaimsPrincipal(new ClaimsIdentity(claims, Scheme)));
    }

    internal static Task OutAsync(HttpContext context) => context.SignOutAsync(Scheme);

    private static Visitor Of(Person person) => new(person.Id, person.Name, person.Role, person.Role == PersonRole.Landowner ? person.Properties : ImmutableArray<string>.Empty);
}
