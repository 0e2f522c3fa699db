using System.Data.Common;
using System.Text.RegularExpressions;
using Npgsql;

namespace Tussock.Store.Postgres;

/// <summary>A database on a server as it is typed: <c>Host=…;Database=…</c> or <c>postgresql://…</c>. What was typed may hold a password: no sentence ever repeats it.</summary>
internal static partial class ServerAddress
{
    private static readonly string[] Schemes = ["postgres://", "postgresql://"];

    /// <summary>What is taken where nothing is said.</summary>
    private static readonly (string Name, string Value)[] Usual =
    [
        ("Application Name", "Tussock"), ("Timeout", "10"), ("Keepalive", "30"), ("Maximum Pool Size", "20"), ("Max Auto Prepare", "40"), ("GSS Encryption Mode", "Disable"),
    ];

    /// <summary>Settings of an address as libpq names them, and what they are called here.</summary>
    private static readonly Dictionary<string, string> Settings = new(StringComparer.Ordinal)
    {
        ["host"] = "Host", ["port"] = "Port", ["dbname"] = "Database", ["user"] = "Username", ["password"] = "Password", ["passfile"] = "Passfile",
        ["sslmode"] = "SSL Mode", ["sslrootcert"] = "Root Certificate", ["sslcert"] = "SSL Certificate", ["sslkey"] = "SSL Key", ["sslpassword"] = "SSL Password", ["sslnegotiation"] = "SSL Negotiation",
        ["connect_timeout"] = "Timeout", ["application_name"] = "Application Name", ["options"] = "Options", ["channel_binding"] = "Channel Binding",
    };

    /// <summary>Whether DATA means a server; a file of such a name would have to be called <c>./Host=…</c>.</summary>
    internal static bool Is(string data) => Schemes.Any(s => data.StartsWith(s, StringComparison.OrdinalIgnoreCase)) || Pair().IsMatch(data);

    /// <summary>The settings to connect with.</summary>
    /// <exception cref="DataFileException">It is spelled wrongly, or names no server or no database.</exception>
    internal static NpgsqlConnectionStringBuilder Read(string data)
    {
        try
        {
            var typed = new DbConnectionStringBuilder();
            if (Schemes.FirstOrDefault(s => data.StartsWith(s, StringComparison.OrdinalIgnoreCase)) is { } scheme) Take(typed, data[scheme.Length..]);
            else typed.ConnectionString = data;
            var settings = new NpgsqlConnectionStringBuilder(typed.ConnectionString);
            if (string.IsNullOrEmpty(settings.Host) || string.IsNullOrEmpty(settings.Database)) throw DataFileException.About("server_unnamed", "DATA");
            settings.Enlist = false;
            settings.IncludeErrorDetail = false;
            foreach (var (name, value) in Usual) if (!IsSaid(settings, name)) settings[name] = value;
            return settings;
        }
        catch (Exception wrong) when (wrong is ArgumentException or FormatException or KeyNotFoundException or OverflowException or InvalidOperationException)
        {
            // The library's own sentence may repeat what was typed; it is not even kept as the cause.
            throw DataFileException.About("server_spelling", "DATA");
        }
    }

    /// <summary>What a database is called in sentences.</summary>
    internal static string Label(NpgsqlConnectionStringBuilder settings) => (settings.Host!.StartsWith('/') || settings.Host.StartsWith('@') ? "localhost" : settings.Host) + "/" + settings.Database;

    /// <summary>Only what was said is listed by the builder's keys, under the library's own spelling.</summary>
    private static bool IsSaid(NpgsqlConnectionStringBuilder settings, string name) => settings.Keys.Contains(name, StringComparer.OrdinalIgnoreCase);

    /// <summary><c>user:password@host:port/database?setting=value</c>, each part optional and percent-encoded (RFC 3986).</summary>
    private static void Take(DbConnectionStringBuilder typed, string address)
    {
        var (place, query) = Split(address, '?');
        var (authority, database) = Split(place, '/');
        var at = authority.LastIndexOf('@');
        if (at >= 0)
        {
            var (user, password) = Split(authority[..at], ':');
            Set(typed, "Username", user);
            Set(typed, "Password", password);
        }

        var host = authority[(at + 1)..];
        var port = Port().Match(host);
        Set(typed, "Host", port.Success ? host[..port.Index] : host);
        if (port.Success) Set(typed, "Port", port.Groups["port"].Value);
        Set(typed, "Database", database);
        foreach (var pair in query.Split('&', StringSplitOptions.RemoveEmptyEntries))
        {
            var (name, value) = Split(pair, '=');
            Set(typed, Settings[Uri.UnescapeDataString(name)], name == "sslmode" ? value.Replace("-", "", StringComparison.Ordinal) : value);
        }
    }

    private static void Set(DbConnectionStringBuilder typed, string name, string encoded)
    {
        if (encoded.Length > 0) typed[name] = Uri.UnescapeDataString(encoded);
    }

    private static (string Before, string After) Split(string text, char at) => text.IndexOf(at, StringComparison.Ordinal) is >= 0 and var i ? (text[..i], text[(i + 1)..]) : (text, "");

    [GeneratedRegex(@"(^|;)\s*(host|server)\s*=.*;|;\s*(host|server)\s*=", RegexOptions.IgnoreCase | RegexOptions.Singleline | RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Pair();

    [GeneratedRegex(@":(?<port>\d+)$", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Port();
}
