using System.Globalization;
using System.Net;
using System.Security.Cryptography;
using System.Text;

namespace Tussock.App.Serving;

/// <summary>What became of a code that somebody gave.</summary>
internal enum Pairing
{
    /// <summary>It was right and is used up.</summary>
    Right,

    /// <summary>It was wrong, too old, or used already.</summary>
    Wrong,

    /// <summary>Too many wrong ones from there, or from everywhere: no more until the desk asks for a new code.</summary>
    Closed,
}

/// <summary>The one code that lets one phone in: eight digits, good once and for ten minutes. Lives in memory alone. May be shared between threads.</summary>
internal sealed class PairingCode(TimeProvider clock)
{
    private const int MostWrong = 5;
    private const int MostWrongOfAll = 50;
    private static readonly TimeSpan Life = TimeSpan.FromMinutes(10);
    private readonly Lock gate = new();
    private string? code;
    private DateTimeOffset madeAt;
    private readonly Dictionary<IPAddress, int> wrong = [];

    /// <summary>A new code; the former one is worth nothing any more.</summary>
    internal string Next()
    {
        lock (gate)
        {
            code = RandomNumberGenerator.GetInt32(100_000_000).ToString("D8", CultureInfo.InvariantCulture);
            madeAt = clock.GetUtcNow();
            wrong.Clear();
            return code;
        }
    }

    /// <summary>Tries a code; one that is right is used up only when that is said. Blanks in it do not matter. Wrong ones are counted by the address that they come from, so that one stranger can't shut the crew out; and over all, so that many addresses gain nothing.</summary>
    internal Pairing Try(string given, IPAddress? from, bool isUsed = true)
    {
        var whose = from ?? IPAddress.None;
        lock (gate)
        {
            if (wrong.GetValueOrDefault(whose) >= MostWrong || wrong.Values.Sum() >= MostWrongOfAll) return Pairing.Closed;
            var plain = Encoding.UTF8.GetBytes(given.Replace(" ", "", StringComparison.Ordinal));
            if (code is null || clock.GetUtcNow() - madeAt > Life || !CryptographicOperations.FixedTimeEquals(plain, Encoding.UTF8.GetBytes(code)))
            {
                wrong[whose] = wrong.GetValueOrDefault(whose) + 1;
                return Pairing.Wrong;
            }

            if (isUsed) code = null;
            return Pairing.Right;
        }
    }
}
