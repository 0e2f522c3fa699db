using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Tussock.Models;

/// <summary>The daily hazard of many patterns at once, four lanes at a time, in the ratios that keep their digits where h itself is too small or too large for a number.</summary>
/// <remarks>
/// Columns: h; log h; u = h′/h; b = v − u² with v = h″/h. Log hazard: u = 1, b = 0. Daily logit with e = e^(−|η|), L = log(1 + e): for η &gt; 0
/// h = L, u = −e/((1 + e)L), b = u·(e − L)/((1 + e)L), with e − L from the series in z = e/(2 + e) where e is small.
/// </remarks>
internal static class HazardColumns
{
    /// <summary>Above this η on the log scale an interval is lost for sure and e^η would soon be too large.</summary>
    public const double HighestLogHazard = 690;

    /// <summary>Beyond this logit 1 + e = 1 and everything is a power of e.</summary>
    private const double Beyond = 40;

    private const double SmallOdds = 0.02;

    /// <summary>Log hazard: h from η, which is cut at <see cref="HighestLogHazard"/> in place.</summary>
    public static void LogHazard(Span<double> eta, Span<double> h)
    {
        var x = MemoryMarshal.Cast<double, Vector256<double>>(eta);
        var y = MemoryMarshal.Cast<double, Vector256<double>>(h);
        var top = Vector256.Create(HighestLogHazard);
        for (var i = 0; i < x.Length; i++)
        {
            x[i] = Vector256.Min(x[i], top);
            y[i] = Vector256.Exp(x[i]);
        }

        for (var rest = x.Length * 4; rest < eta.Length; rest++)
        {
            eta[rest] = Math.Min(eta[rest], HighestLogHazard);
            h[rest] = Math.Exp(eta[rest]);
        }
    }

    /// <summary>Daily logit: h, log h, u, b and the smaller of s and 1 − s from η.</summary>
    public static void DailyLogit(ReadOnlySpan<double> eta, Span<double> h, Span<double> log, Span<double> u, Span<double> b, Span<double> rare)
    {
        var x = MemoryMarshal.Cast<double, Vector256<double>>(eta);
        Span<Vector256<double>> hs = Cast(h), logs = Cast(log), us = Cast(u), bs = Cast(b), rares = Cast(rare);
        for (var i = 0; i < x.Length; i++) (hs[i], logs[i], us[i], bs[i], rares[i]) = Lanes(x[i]);
        for (var rest = x.Length * 4; rest < eta.Length; rest++)
        {
            var (one, two, three, four, five) = Lanes(Vector256.Create(eta[rest]));
            (h[rest], log[rest], u[rest], b[rest], rare[rest]) = (one[0], two[0], three[0], four[0], five[0]);
        }
    }

    private static Span<Vector256<double>> Cast(Span<double> column) => MemoryMarshal.Cast<double, Vector256<double>>(column);

    private static (Vector256<double> H, Vector256<double> Log, Vector256<double> U, Vector256<double> B, Vector256<double> Rare) Lanes(Vector256<double> eta)
    {
        var one = Vector256.Create(1.0);
        var size = Vector256.Abs(eta);
        var positive = Vector256.GreaterThan(eta, Vector256<double>.Zero);
        var e = Vector256.Exp(-size);
        var sum = one + e;
        var log1p = Vector256.ConditionalSelect(Vector256.Equals(sum, one), e, Vector256.Log(sum) * e / (sum - one));
        var h = Vector256.ConditionalSelect(positive, log1p, log1p + size);
        Vector256<double> major = one / sum, minor = e / sum;
        Vector256<double> s = Vector256.ConditionalSelect(positive, major, minor), q = Vector256.ConditionalSelect(positive, minor, major);
        var far = positive & Vector256.GreaterThan(size, Vector256.Create(Beyond));
        var u = Vector256.ConditionalSelect(far, one, q / h);
        var bend = Vector256.ConditionalSelect(positive, -u * s * Gap(e, log1p) / log1p, u * (s - u));
        return (h, Vector256.ConditionalSelect(far, -eta, Vector256.Log(h)), -u, Vector256.ConditionalSelect(far, e * -0.5, bend), minor);
    }

    /// <summary>e − log(1 + e), with 2z²(1/(1 − z) − z/3 − z³/5 − z⁵/7 − z⁷/9) where e is small.</summary>
    private static Vector256<double> Gap(Vector256<double> e, Vector256<double> log1p)
    {
        var one = Vector256.Create(1.0);
        var z = e / (e + Vector256.Create(2.0));
        var y = z * z;
        var tail = z * (Vector256.Create(1.0 / 3) + y * (Vector256.Create(1.0 / 5) + y * (Vector256.Create(1.0 / 7) + y * (1.0 / 9))));
        var series = y * 2 * (one / (one - z) - tail);
        return Vector256.ConditionalSelect(Vector256.LessThan(e, Vector256.Create(SmallOdds)), series, e - log1p);
    }
}
