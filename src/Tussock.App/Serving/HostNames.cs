using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;

namespace Tussock.App.Serving;

/// <summary>The names and addresses under which phones can reach this computer.</summary>
internal static class HostNames
{
    /// <summary>Names given first, then the computer's own.</summary>
    internal static string[] Names(IEnumerable<string> given)
    {
        var own = Dns.GetHostName().ToLowerInvariant();
        string[] names = [.. given.Select(n => n.ToLowerInvariant()), own, own.Contains('.', StringComparison.Ordinal) ? own : own + ".local", "localhost"];
        return [.. names.Where(n => Uri.CheckHostName(n) == UriHostNameType.Dns).Distinct()];
    }

    /// <summary>Addresses of this computer in private networks, and its own to itself.</summary>
    internal static IPAddress[] Addresses() =>
    [
        .. NetworkInterface.GetAllNetworkInterfaces().Where(i => i.OperationalStatus == OperationalStatus.Up).SelectMany(i => i.GetIPProperties().UnicastAddresses).Select(a => a.Address)
            .Where(a => a.AddressFamily == AddressFamily.InterNetwork && (IPAddress.IsLoopback(a) || IsPrivate(a.GetAddressBytes()))).Append(IPAddress.Loopback).Distinct(),
    ];

    private static bool IsPrivate(byte[] a) => a[0] == 10 || (a[0] == 172 && a[1] is >= 16 and < 32) || (a[0] == 192 && a[1] == 168) || (a[0] == 169 && a[1] == 254);
}
