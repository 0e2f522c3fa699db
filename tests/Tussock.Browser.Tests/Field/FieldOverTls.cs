using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using Tussock.Field;
using Xunit;

namespace Tussock.Browser.Tests.Field;

/// <summary>The app under a name in a network, as a crew meets it: what a phone allows comes from the certificate, not from the address.</summary>
/// <remarks>The browser trusts the desk's root because it was taken in, into a store of certificates of its own; nothing is waved through.</remarks>
[Collection("browser")]
public sealed class FieldOverTls
{
    private const string Host = "ranch-desk.example";
    private const string Line = "Invented ranch,North,T1,2026-05-04,crew 1,crew 1\n";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Under_a_name_with_the_desks_own_certificate_the_app_is_installed_works_offline_and_gets_GPS()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, ""), Host);
        var home = await TrustingAsync(desk);
        await using var phone = await Phone.LastingAsync(home, Host);
        await phone.Page.GotoAsync(desk.Address);
        await phone.ReadyAsync();
        Assert.Equal(Host, await phone.Page.EvaluateAsync<string>("location.hostname"));
        Assert.True(await phone.Page.EvaluateAsync<bool>("isSecureContext"));
        await phone.PairAsync(code: desk.Code);
        await phone.KeptAsync();
        Assert.Equal("activated", await phone.Page.EvaluateAsync<string>("async () => (await navigator.serviceWorker.ready).active.state"));

        var browser = await phone.Context.NewCDPSessionAsync(phone.Page);
        var manifest = (await browser.SendAsync("Page.getAppManifest"))!.Value;
        Assert.Empty(manifest.GetProperty("errors").EnumerateArray());
        Assert.EndsWith("/field/app.webmanifest", manifest.GetProperty("url").GetString(), StringComparison.Ordinal);
        Assert.Equal("[]", (await browser.SendAsync("Page.getInstallabilityErrors"))!.Value.GetProperty("installabilityErrors").GetRawText());

        desk.Kill();
        await phone.ReloadAsync();
        await phone.Page.WaitForSelectorAsync("#due");
        await phone.WriteAsync("walker", "crew 1");
        await phone.GoAsync("set-out", "T1");
        await phone.TapAsync("take-fix");
        await phone.WaitForAsync("fix", "within 4 m");
        desk.Start();
        await phone.SendAsync();
        Assert.Empty(phone.Wrong);
    }

    [Fact]
    public async Task A_browser_that_was_not_told_to_trust_the_desk_does_not_open_the_app()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, ""), Host);
        await using var phone = await Phone.LastingAsync(desk.At("stranger"), Host);
        var fault = await Assert.ThrowsAsync<Microsoft.Playwright.PlaywrightException>(() => phone.Page.GotoAsync(desk.Address));
        Assert.Contains("ERR_CERT_AUTHORITY_INVALID", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Over_plain_http_the_same_name_says_in_one_sentence_why_not_and_leads_to_where_it_works()
    {
        using var desk = new FieldDesk(PlannedSeason.Files(Line, ""), Host);
        var home = await TrustingAsync(desk);
        await using var phone = await Phone.LastingAsync(home, Host);
        await phone.Page.GotoAsync(new Uri(desk.RootPage!, "/field/").ToString());
        Assert.False(await phone.Page.EvaluateAsync<bool>("isSecureContext"));
        var why = Assert.Single(await phone.Page.Locator("main > p:not(:has(a))").AllInnerTextsAsync());
        Assert.Contains("offline", why, StringComparison.Ordinal);
        Assert.Contains("https", why, StringComparison.Ordinal);
        Assert.Equal(1, why.Count(c => c == '.'));
        await phone.PictureAsync("insecure");
        await phone.Page.GetByText("Open the app over its secure address").ClickAsync();
        await phone.Page.WaitForURLAsync(desk.Address);
        await phone.ReadyAsync();
        await phone.Page.GotoAsync(desk.RootPage!.ToString());
        await phone.PictureAsync("root");
    }

    /// <summary>The app's files on somebody else's host, by mistake without a certificate: the app says it itself.</summary>
    [Fact]
    public async Task The_app_itself_says_it_where_a_host_gives_its_files_out_over_plain_http()
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        await using var host = builder.Build();
        host.Urls.Add("http://127.0.0.1:0");
        host.MapGet("/{**path}", (string? path) => FieldFiles.All.FirstOrDefault(f => f.Path == (path is null or "" ? "index.html" : path)) is { } file ? (IResult)TypedResults.Bytes(file.Bytes.ToArray(), file.ContentType) : TypedResults.NotFound());
        await host.StartAsync(Cancel);
        var home = Directory.CreateTempSubdirectory("tussock-plain-");
        await using (var phone = await Phone.LastingAsync(home.FullName, Host))
        {
            await phone.Page.GotoAsync(string.Create(CultureInfo.InvariantCulture, $"http://{Host}:{new Uri(host.Urls.First()).Port}/"));
            await phone.Page.WaitForSelectorAsync("#insecure");
            Assert.Contains("https", await phone.TextAsync("insecure"), StringComparison.Ordinal);
            Assert.Equal(0, await phone.Page.Locator("#pair").CountAsync());
            Assert.Empty(phone.Wrong);
        }

        home.Delete(recursive: true);
    }

    /// <summary>A home whose store of certificates holds the desk's root, taken from its page as a phone takes it.</summary>
    private static async Task<string> TrustingAsync(FieldDesk desk)
    {
        using var client = new HttpClient();
        using var ask = new HttpRequestMessage(HttpMethod.Get, string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{desk.RootPage!.Port}/root.crt"));
        ask.Headers.Host = desk.RootPage.Authority;
        using var answer = await client.SendAsync(ask, Cancel);
        var (home, root) = (Directory.CreateDirectory(desk.At("home")).FullName, desk.At("root.crt"));
        await File.WriteAllBytesAsync(root, await answer.EnsureSuccessStatusCode().Content.ReadAsByteArrayAsync(Cancel), Cancel);
        var store = "sql:" + Directory.CreateDirectory(Path.Combine(home, ".pki", "nssdb")).FullName;
        await CertutilAsync("-N", "-d", store, "--empty-password");
        await CertutilAsync("-A", "-d", store, "-n", "desk", "-t", "C,,", "-i", root);
        return home;
    }

    private static async Task CertutilAsync(params string[] args)
    {
        using var made = Process.Start(new ProcessStartInfo("certutil", args) { RedirectStandardError = true, UseShellExecute = false })!;
        var said = await made.StandardError.ReadToEndAsync(Cancel);
        await made.WaitForExitAsync(Cancel);
        Assert.True(made.ExitCode == 0, said);
    }
}
