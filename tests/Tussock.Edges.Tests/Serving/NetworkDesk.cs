using System.Net;
using System.Net.Security;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Hosting;
using Tussock.App.Serving.People;
using Tussock.Records;
using Tussock.Simulation;
using Tussock.Store;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>A desk that is open to a network, with the invented season of two properties and an account of every role.</summary>
internal sealed partial class NetworkDesk : IAsyncDisposable
{
    internal const string Password = "four words in a row";
    internal const string OwnProperty = "Two Windmills";
    internal const string OtherProperty = "Thirteen Gates";

    /// <summary>Names of the accounts; the neighbour is the landowner of the other property.</summary>
    internal static readonly string[] Names = ["neighbour", "owner", "reviewer", "crew 1", "lead"];

    private readonly X509Certificate2 certificate = SelfMade();
    private readonly List<HttpClient> clients = [];

    internal NetworkDesk(SeasonTables? season = null)
    {
        Desk = new RunningDesk(season ?? DemoSeason.Write(1), isLoopbackOnly: false, k => k.Listen(IPAddress.Loopback, 0, o => o.UseHttps(certificate)), null);
        var hash = new Passwords(rounds: 1000).Hash(Password);
        foreach (var name in Names) Add(name, hash);
    }

    internal RunningDesk Desk { get; }

    internal DataFile File => Desk.File;

    /// <summary>A browser's memory of cookies, and nobody signed in.</summary>
    internal HttpClient Stranger(bool keepsCookies = true)
    {
        var client = new HttpClient(new SocketsHttpHandler
        {
            AllowAutoRedirect = false, UseCookies = keepsCookies, CookieContainer = new CookieContainer(), SslOptions = new SslClientAuthenticationOptions { RemoteCertificateValidationCallback = (_, shown, _, _) => shown?.GetCertHashString() == certificate.Thumbprint },
        })
        { BaseAddress = Desk.Address };
        client.DefaultRequestHeaders.Add("Accept", "text/html");
        clients.Add(client);
        return client;
    }

    /// <summary>Somebody who has signed in.</summary>
    internal async Task<HttpClient> SignedInAsync(string name, string password = Password)
    {
        var client = Stranger();
        var answer = await SignInAsync(client, name, password);
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        return client;
    }

    internal static async Task<HttpResponseMessage> SignInAsync(HttpClient client, string name, string password) => await PostAsync(client, "/sign-in", await TokenAsync(client, "/sign-in"), ("name", name), ("password", password));

    internal static async Task<HttpResponseMessage> PostAsync(HttpClient client, string address, string token, params IEnumerable<(string Name, string Value)> fields) =>
        await client.PostAsync(new Uri(address, UriKind.Relative), new FormUrlEncodedContent(fields.Append(("__RequestVerificationToken", token)).Select(f => new KeyValuePair<string, string>(f.Item1, f.Item2))));

    /// <summary>The token that a page's forms carry.</summary>
    internal static async Task<string> TokenAsync(HttpClient client, string address) => Token().Match(await client.GetStringAsync(new Uri(address, UriKind.Relative))).Groups["it"].Value;

    internal static Task<HttpResponseMessage> GetAsync(HttpClient client, string address) => client.GetAsync(new Uri(address, UriKind.Relative));

    /// <summary>A page once its answer has been computed.</summary>
    internal static async Task<string> ReadyAsync(HttpClient client, string address)
    {
        for (var n = 0; ; n++)
        {
            var page = await client.GetStringAsync(new Uri(address, UriKind.Relative));
            if (!page.Contains("The answer is being computed", StringComparison.Ordinal)) return page;
            Assert.True(n < 600, "the answer never came");
            await Task.Delay(100);
        }
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var client in clients) client.Dispose();
        await Desk.DisposeAsync();
        certificate.Dispose();
    }

    internal static X509Certificate2 SelfMade()
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        using var made = new CertificateRequest("CN=x", key, HashAlgorithmName.SHA256).CreateSelfSigned(DateTimeOffset.UtcNow.AddDays(-1), DateTimeOffset.UtcNow.AddDays(1));
        return X509CertificateLoader.LoadPkcs12(made.Export(X509ContentType.Pkcs12), null);
    }

    private void Add(string name, string hash)
    {
        var role = name switch { "neighbour" or "owner" => PersonRole.Landowner, "reviewer" => PersonRole.Reviewer, "lead" => PersonRole.Lead, _ => PersonRole.Crew };
        Assert.True(File.AddPerson(new Person(Guid.NewGuid(), name, role, name switch { "neighbour" => [OtherProperty], "owner" => [OwnProperty], _ => [] }, DateTimeOffset.UtcNow), hash, "test"));
    }

    [GeneratedRegex("name=\"__RequestVerificationToken\" value=\"(?<it>[^\"]+)\"")]
    private static partial Regex Token();
}
