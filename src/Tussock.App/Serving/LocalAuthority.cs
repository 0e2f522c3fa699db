using System.Formats.Asn1;
using System.Net;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;

namespace Tussock.App.Serving;

/// <summary>A certificate authority of this computer's own, good for its names and for private addresses only, so that phones can reach it over a secure connection without the internet.</summary>
/// <remarks>
/// Root and key lie beside the data file, readable by their owner alone. Whoever stole the key could pretend to be a computer on a private
/// network, or one of these names, and nothing else: the root itself says so, and phones hold it to that.
/// </remarks>
internal sealed class LocalAuthority
{
    private const int RootYears = 10;
    private const int LeafDays = 397;
    private const int RenewBeforeDays = 60;
    private static readonly (string Address, string Mask)[] Private =
        [("10.0.0.0", "255.0.0.0"), ("172.16.0.0", "255.240.0.0"), ("192.168.0.0", "255.255.0.0"), ("169.254.0.0", "255.255.0.0"), ("127.0.0.0", "255.0.0.0"), ("fc00::", "fe00::"), ("fe80::", "ffc0::"), ("::1", "ffff:ffff:ffff:ffff:ffff:ffff:ffff:ffff")];

    private readonly string folder;

    private LocalAuthority(string kept, X509Certificate2 root, bool isNew) => (folder, Root, IsNew) = (kept, root, isNew);

    /// <summary>The root, with its key.</summary>
    internal X509Certificate2 Root { get; }

    /// <summary>Whether the root was made just now: phones that had an older one need this.</summary>
    internal bool IsNew { get; }

    /// <summary>The authority beside a data file; made when there is none, or when it lacks one of the names.</summary>
    internal static LocalAuthority Beside(string dataFile, IReadOnlyCollection<string> names, DateTimeOffset now)
    {
        var place = dataFile + ".tls";
        if (OperatingSystem.IsWindows()) Directory.CreateDirectory(place);
        else Directory.CreateDirectory(place, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        var (path, known) = (Path.Combine(place, "root.pfx"), Path.Combine(place, "names.txt"));
        if (File.Exists(path) && File.Exists(known) && !names.Except(File.ReadAllLines(known), StringComparer.OrdinalIgnoreCase).Any())
        {
            var root = X509CertificateLoader.LoadPkcs12FromFile(path, null);
            if (root.NotAfter.ToUniversalTime() > now.UtcDateTime.AddDays(LeafDays)) return new LocalAuthority(place, root, false);
        }

        var made = MakeRoot(names, now);
        Keep(path, made.Export(X509ContentType.Pkcs12));
        Keep(known, System.Text.Encoding.UTF8.GetBytes(string.Join('\n', names) + "\n"));
        File.Delete(Path.Combine(place, "server.pfx"));
        return new LocalAuthority(place, X509CertificateLoader.LoadPkcs12FromFile(path, null), true);
    }

    /// <summary>A certificate for names and addresses; the one kept is used again while it covers them and is not near its end.</summary>
    internal X509Certificate2 Server(IReadOnlyCollection<string> names, IReadOnlyCollection<IPAddress> addresses, DateTimeOffset now)
    {
        var path = Path.Combine(folder, "server.pfx");
        if (File.Exists(path))
        {
            var kept = X509CertificateLoader.LoadPkcs12FromFile(path, null);
            if (kept.NotAfter.ToUniversalTime() > now.UtcDateTime.AddDays(RenewBeforeDays) && names.All(n => kept.MatchesHostname(n)) && addresses.All(a => kept.MatchesHostname(a.ToString()))) return kept;
            kept.Dispose();
        }

        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=" + names.First(), key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(false, false, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.DigitalSignature, true));
        request.CertificateExtensions.Add(new X509EnhancedKeyUsageExtension([new Oid("1.3.6.1.5.5.7.3.1")], false));
        request.CertificateExtensions.Add(X509AuthorityKeyIdentifierExtension.CreateFromCertificate(Root, true, false));
        var subject = new SubjectAlternativeNameBuilder();
        foreach (var name in names) subject.AddDnsName(name);
        foreach (var address in addresses) subject.AddIpAddress(address);
        request.CertificateExtensions.Add(subject.Build());
        using var signed = request.Create(Root, now.AddDays(-1), now.AddDays(LeafDays - 1), RandomNumberGenerator.GetBytes(16));
        using var whole = signed.CopyWithPrivateKey(key);
        Keep(path, whole.Export(X509ContentType.Pkcs12));
        return X509CertificateLoader.LoadPkcs12FromFile(path, null);
    }

    private static X509Certificate2 MakeRoot(IReadOnlyCollection<string> names, DateTimeOffset now)
    {
        using var key = ECDsa.Create(ECCurve.NamedCurves.nistP256);
        var request = new CertificateRequest("CN=Tussock on " + names.First(), key, HashAlgorithmName.SHA256);
        request.CertificateExtensions.Add(new X509BasicConstraintsExtension(true, true, 0, true));
        request.CertificateExtensions.Add(new X509KeyUsageExtension(X509KeyUsageFlags.KeyCertSign | X509KeyUsageFlags.CrlSign, true));
        request.CertificateExtensions.Add(new X509SubjectKeyIdentifierExtension(request.PublicKey, false));
        request.CertificateExtensions.Add(new X509Extension("2.5.29.30", Constraints(names), critical: true));
        return request.CreateSelfSigned(now.AddDays(-1), now.AddYears(RootYears));
    }

    /// <summary>The names and addresses that the root may speak for (RFC 5280, section 4.2.1.10).</summary>
    private static byte[] Constraints(IEnumerable<string> names)
    {
        var writer = new AsnWriter(AsnEncodingRules.DER);
        using (writer.PushSequence())
        using (writer.PushSequence(new Asn1Tag(TagClass.ContextSpecific, 0)))
        {
            foreach (var name in names)
            {
                using (writer.PushSequence()) writer.WriteCharacterString(UniversalTagNumber.IA5String, name, new Asn1Tag(TagClass.ContextSpecific, 2));
            }

            foreach (var (address, mask) in Private)
            {
                using (writer.PushSequence()) writer.WriteOctetString([.. IPAddress.Parse(address).GetAddressBytes(), .. IPAddress.Parse(mask).GetAddressBytes()], new Asn1Tag(TagClass.ContextSpecific, 7));
            }
        }

        return writer.Encode();
    }

    /// <summary>Writes a file that only its owner may read, whole or not at all.</summary>
    private static void Keep(string path, byte[] bytes)
    {
        var draft = path + ".new";
        File.Delete(draft);
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows()) options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        using (var stream = new FileStream(draft, options)) stream.Write(bytes);
        File.Move(draft, path, overwrite: true);
    }
}
