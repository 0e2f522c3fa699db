using System.Net;
using Microsoft.AspNetCore.Http;
using System.Security.Cryptography.X509Certificates;
using Tussock.Words;

namespace Tussock.App.Serving;

/// <summary>The plain-http page from which a phone takes this desk's root certificate, step by step, and why.</summary>
internal sealed class RootPage(X509Certificate2? root, Catalogue words, string address)
{
    internal async Task AnswerAsync(HttpContext context)
    {
        if (root is null)
        {
            await InsecurePage.AnswerAsync(context, words);
            return;
        }

        switch (context.Request.Path.Value)
        {
            case "/root.crt":
                context.Response.Headers.ContentDisposition = "attachment; filename=\"tussock-root.crt\"";
                await Answers.BytesAsync(context, StatusCodes.Status200OK, "application/x-x509-ca-cert", root.Export(X509ContentType.Cert));
                break;
            case "/root":
                await Answers.BytesAsync(context, StatusCodes.Status200OK, "text/html; charset=utf-8", Page());
                break;
            default:
                var ways = Link("/root", "serve.insecure_new") + Link(address, "serve.insecure_known");
                await Answers.BytesAsync(context, StatusCodes.Status403Forbidden, "text/html; charset=utf-8", InsecurePage.Page(words.Say("serve.insecure_title"), [words.Say("serve.insecure")], ways));
                break;
        }
    }

    /// <summary>The fingerprint as people compare it, four digits at a time.</summary>
    internal static string Fingerprint(X509Certificate2 root) => string.Join(' ', Convert.ToHexString(root.GetCertHash(System.Security.Cryptography.HashAlgorithmName.SHA256)).Chunk(4).Select(c => new string(c)));

    private byte[] Page()
    {
        var more = Link("/root.crt", "serve.root.take") + Steps("serve.root.android", 4) + Steps("serve.root.iphone", 4) + Link(address, "serve.root.open");
        return InsecurePage.Page(words.Say("serve.root.title"), [words.Say("serve.root.why"), words.Say("serve.root.limits"), words.Say(Phrase.Of("serve.root.fingerprint", ("fingerprint", Fingerprint(root!))))], more);
    }

    private string Link(string to, string key) => "<p><a href=\"" + WebUtility.HtmlEncode(to) + "\">" + WebUtility.HtmlEncode(words.Say(key)) + "</a></p>";

    private string Steps(string key, int count) =>
        "<h2>" + WebUtility.HtmlEncode(words.Say(key)) + "</h2><ol>" + string.Concat(Enumerable.Range(1, count).Select(n => "<li>" + WebUtility.HtmlEncode(words.Say(key + "." + n.ToString(System.Globalization.CultureInfo.InvariantCulture))) + "</li>")) + "</ol>";
}
