using System.Net;
using System.Net.Sockets;

namespace Tussock.App.Serving.People;

/// <summary>How fast sign-ins may be tried. One address that fails is told to wait; a name on which many fail is only answered more slowly, so that nobody can shut its owner out. Lives in memory. May be shared between threads.</summary>
internal sealed class SignInPace(TimeProvider clock)
{
    private const int FreeByAddress = 5;
    private const int FreeByName = 3;
    private const int MostKept = 10_000;
    private static readonly TimeSpan FirstWait = TimeSpan.FromSeconds(15);
    private static readonly TimeSpan LongestWait = TimeSpan.FromMinutes(15);
    private static readonly TimeSpan FirstDelay = TimeSpan.FromSeconds(0.5);
    private static readonly TimeSpan LongestDelay = TimeSpan.FromSeconds(8);
    private static readonly TimeSpan Forgotten = TimeSpan.FromHours(1);
    private readonly Lock gate = new();
    private readonly Dictionary<string, Tried> byAddress = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Tried> byName = new(StringComparer.Ordinal);

    /// <summary>Counts a try as failed before it is made, so that many at once gain nothing.</summary>
    /// <param name="address">Where it comes from.</param>
    /// <param name="name">The name that was typed; whether there is such an account makes no difference.</param>
    /// <returns>How long this address has to wait before it may try; zero when it may now. Then: how long the answer is to be held back. Then: whether the wait was told for the first time.</returns>
    internal (TimeSpan Wait, TimeSpan Delay, bool IsNews) Begin(IPAddress? address, string name)
    {
        var now = clock.GetUtcNow();
        lock (gate)
        {
            var from = Kept(byAddress, Whose(address), now);
            var wait = from.At + Growing(FirstWait, from.Count - FreeByAddress, LongestWait) - now;
            if (from.Count >= FreeByAddress && wait > TimeSpan.Zero)
            {
                var isNews = !from.IsTold;
                from.IsTold = true;
                return (wait, TimeSpan.Zero, isNews);
            }

            var named = Kept(byName, name.ToUpperInvariant(), now);
            var delay = named.Count >= FreeByName ? Growing(FirstDelay, named.Count - FreeByName, LongestDelay) : TimeSpan.Zero;
            foreach (var tried in (Tried[])[from, named]) (tried.Count, tried.At, tried.IsTold) = (tried.Count + 1, now, false);
            return (TimeSpan.Zero, delay, false);
        }
    }

    /// <summary>The try was right after all: it no longer counts against its address, and the name begins anew.</summary>
    internal void Right(IPAddress? address, string name)
    {
        lock (gate)
        {
            if (byAddress.TryGetValue(Whose(address), out var from)) from.Count--;
            byName.Remove(name.ToUpperInvariant());
        }
    }

    /// <summary>An address as it is counted: of IPv6 the half that a network hands out whole.</summary>
    internal static string Whose(IPAddress? address)
    {
        if (address is null) return "";
        if (address.IsIPv4MappedToIPv6) address = address.MapToIPv4();
        return address.AddressFamily == AddressFamily.InterNetworkV6 ? Convert.ToHexString(address.GetAddressBytes().AsSpan(0, 8)) : address.ToString();
    }

    private static TimeSpan Growing(TimeSpan first, int steps, TimeSpan most) => TimeSpan.FromTicks(Math.Min(most.Ticks, first.Ticks << Math.Clamp(steps, 0, 12)));

    private static Tried Kept(Dictionary<string, Tried> all, string key, DateTimeOffset now)
    {
        if (all.TryGetValue(key, out var tried) && now - tried.At < Forgotten) return tried;
        if (all.Count >= MostKept)
        {
            foreach (var old in all.OrderBy(t => t.Value.At).Take(MostKept / 2).Select(t => t.Key).ToArray()) all.Remove(old);
        }

        return all[key] = new Tried { At = now };
    }

    private sealed class Tried
    {
        internal int Count { get; set; }

        internal DateTimeOffset At { get; set; }

        internal bool IsTold { get; set; }
    }
}
