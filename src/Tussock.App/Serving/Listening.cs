using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Tussock.App.Serving;

/// <summary>Where the desk listens, and with which certificate.</summary>
/// <param name="Beside">Path to which an ending is added for what lies beside the data: certificates.</param>
/// <param name="Port">Port of the app; the page for new phones is one above.</param>
/// <param name="Hosts">Names given on the command line.</param>
/// <param name="Network">Whether phones in the network may come in.</param>
/// <param name="Certificate">The user's own certificate; null: the program makes one where it needs one.</param>
/// <param name="Key">Key of that certificate, where it is in a file of its own.</param>
internal sealed record Listening(string Beside, int Port, string[] Hosts, bool Network, string? Certificate, string? Key)
{
    /// <summary>Whether the app is served over https.</summary>
    internal bool IsSecure => Network || Certificate is not null;

    /// <summary>The certificate to serve with, and the authority behind it where it is the program's own.</summary>
    /// <exception cref="CryptographicException">The user's certificate can't be used.</exception>
    internal (X509Certificate2? Server, LocalAuthority? Authority) Certificates(DateTimeOffset now)
    {
        if (!IsSecure) return (null, null);
        if (Certificate is null)
        {
            var names = HostNames.Names(Hosts);
            var authority = LocalAuthority.Beside(Beside, names, now);
            return (authority.Server(names, HostNames.Addresses(), now), authority);
        }

        var own = Certificate.EndsWith(".pem", StringComparison.OrdinalIgnoreCase) ? FromPem(Certificate, Key) : X509CertificateLoader.LoadPkcs12FromFile(Certificate, Environment.GetEnvironmentVariable("TUSSOCK_CERTIFICATE_PASSWORD"));
        return own.HasPrivateKey ? (own, null) : throw new CryptographicException("The certificate has no key");
    }

    /// <summary>The first address to open.</summary>
    internal string Address(int port)
    {
        var host = Hosts.Length > 0 ? Hosts[0] : Network ? HostNames.Addresses().FirstOrDefault(a => !IPAddress.IsLoopback(a))?.ToString() ?? "localhost" : "localhost";
        return string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{(IsSecure ? "https" : "http")}://{host}:{port}/field/");
    }

    /// <summary>Some systems serve only with keys that were read from a PFX.</summary>
    private static X509Certificate2 FromPem(string certificate, string? key)
    {
        using var read = X509Certificate2.CreateFromPemFile(certificate, key);
        return X509CertificateLoader.LoadPkcs12(read.Export(X509ContentType.Pkcs12), null);
    }
}
